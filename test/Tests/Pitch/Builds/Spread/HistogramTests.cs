using Consort.Engine.Pitch.Builds.Spread;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Spread;

public sealed class HistogramTests
{
    [Fact]
    public void Quantiles_of_even_numbers_are_those_shares_to_a_bins_width()
    {
        Histogram sizes = Histogram.OfSizes();
        Histogram shares = Histogram.OfShares();
        for (int i = 0; i < 10_000; i++)
        {
            sizes.Add((i + 0.5) / 100); // 0 to 100
            shares.Add((i + 0.5) / 10_000);
        }
        foreach (double share in (double[])[0.05, 0.5, 0.95])
        {
            Assert.Equal(100 * share, sizes.Quantile(share), 100 * share * 0.01);
            Assert.Equal(share, shares.Quantile(share), 1e-3);
        }
    }

    [Fact]
    public void Streams_that_are_joined_have_the_quantiles_of_all()
    {
        Histogram whole = Histogram.OfSizes();
        Histogram[] parts = [Histogram.OfSizes(), Histogram.OfSizes()];
        for (int i = 1; i < 1000; i++)
        {
            whole.Add(i);
            parts[i % 2].Add(i);
        }
        parts[0].Join(parts[1]);
        Assert.Equal(whole.Count, parts[0].Count);
        Assert.Equal(whole.Quantile(0.3), parts[0].Quantile(0.3));
    }

    [Fact]
    public void A_build_without_a_pitch_counts_as_the_largest()
    {
        Histogram sizes = Histogram.OfSizes();
        sizes.Add(1);
        sizes.Add(double.PositiveInfinity);
        Assert.InRange(sizes.Quantile(0.99), 9000, 11_000);
    }

    [Fact]
    public void Equal_steps_hold_every_number_once_and_where_it_lies_to_a_bin_of_one_per_cent()
    {
        Histogram sizes = Histogram.OfSizes();
        for (int i = 0; i < 10_000; i++)
            sizes.Add((i + 0.5) / 10_000 * 2); // evenly from 0 to 2
        long[] steps = sizes.InSteps(10, 1);
        Assert.Equal(10_000, steps.Sum());
        Assert.All(steps[..9], count => Assert.InRange(count, 490, 510));
        Assert.InRange(steps[9], 5490, 5510); // its own 500, and all beyond
    }
}
