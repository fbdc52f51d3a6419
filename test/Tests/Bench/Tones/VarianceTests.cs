using Xunit;

namespace Consort.Tests.Measuring.Tones;

/// <summary>How far the estimator's readings scatter, over the Cramér-Rao bound: 1 is as good as can be.</summary>
public sealed class VarianceTests
{
    /// <summary>Shape, cents between the two notes (0 for one), hum or none.</summary>
    public static TheoryData<string, double, bool> Cases => new()
    {
        { "sine", 0, false }, { "sine", 0, true },
        { "saw", 0, false }, { "saw", 0, true },
        { "pulse", 0, false }, { "pulse", 0, true },
        { "saw", 5, true }, { "pulse", 12, true }, { "sine", 40, true },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void Few_readings_scatter_by_little_more_than_the_bound(string shape, double cents, bool hum)
    {
        const int Trials = 40;
        foreach (double decibels in (double[])[20, 60])
        {
            Scatter scatter = Scatter.Of(shape, cents, hum, decibels, Trials, seed: 11);
            // A variance of 40 readings is itself good to √(2/40) = 22 %: two of those above 1.2.
            Assert.InRange(scatter.Ratio, 0, 1.2 + 2 * Math.Sqrt(2.0 / Trials));
            Assert.InRange(scatter.Reported, 0.85, 1.25);
            Assert.Equal(0, scatter.Missed);
        }
    }

    [Theory]
    [Trait("Runs", "Long")]
    [MemberData(nameof(Cases))]
    public void Many_readings_scatter_by_at_most_a_fifth_more_than_the_bound(string shape, double cents, bool hum)
    {
        // A variance of 500 readings is good to √(2/500) = 6 %: an estimator at the bound is three of those below 1.2.
        foreach (double decibels in (double[])[20, 40, 60])
        {
            Scatter scatter = Scatter.Of(shape, cents, hum, decibels, trials: 500, seed: 12 + (int)decibels);
            Assert.InRange(scatter.Ratio, 0, 1.2);
            Assert.Equal(0, scatter.Missed);
        }
    }
}
