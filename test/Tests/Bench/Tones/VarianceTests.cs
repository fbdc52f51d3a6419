using System.Collections.Immutable;
using Consort.Engine.Bench.Tones;
using Xunit;

namespace Consort.Tests.Measuring.Tones;

/// <summary>How far the estimator's readings scatter, over the Cramér-Rao bound: 1 is as good as can be.</summary>
public sealed class VarianceTests
{
    private const double Rate = 48000;

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
            Scatter scatter = Of(shape, cents, hum, decibels, Trials, seed: 11);
            // A variance of 40 readings is itself good to √(2/40) = 22 %: two of those above 1.2.
            Assert.InRange(scatter.Ratio, 0, 1.2 + 2 * Math.Sqrt(2.0 / Trials));
            Assert.InRange(scatter.Reported, 0.85, 1.25);
        }
    }

    [Theory]
    [Trait("Runs", "Long")]
    [MemberData(nameof(Cases))]
    public void Many_readings_scatter_by_at_most_a_fifth_more_than_the_bound(string shape, double cents, bool hum)
    {
        foreach (double decibels in (double[])[20, 30, 40, 50, 60])
            Assert.InRange(Of(shape, cents, hum, decibels, trials: 600, seed: 12).Ratio, 0, 1.2);
    }

    /// <summary>Mean square error over the bound, and the variance that was reported over the bound.</summary>
    private readonly record struct Scatter(double Ratio, double Reported);

    private static Scatter Of(string shape, double cents, bool hum, double decibels, int trials, int seed)
    {
        double squares = 0, reported = 0;
        for (int trial = 0; trial < trials; trial++)
        {
            int count = cents > 0 ? 12000 : 4800;
            MadeTone tone = new(1000 * seed + trial, count, Rate);
            double low = 440 * (1 + 0.05 * tone.Share()), high = low * Math.Pow(2, cents * (0.9 + 0.2 * tone.Share()) / 1200);
            tone.Add(shape, low);
            List<Series> truth = [Truth(tone, shape, low)];
            if (cents > 0)
            {
                tone.Add(shape, high, 0.7);
                truth.Add(Truth(tone, shape, high));
            }
            double sigma = Math.Sqrt(tone.Power * Math.Pow(10, -decibels / 10));
            if (hum)
            {
                double mains = 49.95 + 0.1 * tone.Share();
                tone.Hum(mains);
                truth.Add(new(2 * Math.PI * mains / Rate, [1, 2, 3]));
            }
            double[,] bound = SeriesFit.At(new(tone.Samples), new(count), [.. truth])!.Covariance()!;
            tone.Noise(sigma);
            double perHertz = Rate / (2 * Math.PI), deviation = sigma * Math.Sqrt(bound[0, 0]) * perHertz;
            ToneReading? reading = cents > 0
                ? ToneEstimator.Pair(tone.Samples, Rate).Reading?.Low
                : ToneEstimator.One(tone.Samples, Rate).Reading;
            Assert.NotNull(reading);
            squares += Math.Pow((reading.Frequency.Value - low) / deviation, 2);
            reported += Math.Pow(reading.Uncertainty / reading.Excess / deviation, 2);
        }
        return new(squares / trials, reported / trials);
    }

    private static Series Truth(MadeTone tone, string shape, double hertz) =>
        new(2 * Math.PI * hertz / Rate, [.. Enumerable.Range(1, tone.Harmonics(shape, hertz)).Where(k => Math.Abs(MadeTone.Size(shape, k)) > 1e-12)]);
}
