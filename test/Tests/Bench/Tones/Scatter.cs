using Consort.Engine.Bench.Tones;

namespace Consort.Tests.Measuring.Tones;

/// <summary>How far readings of made notes scatter.</summary>
/// <param name="Ratio">Mean square error of the (lower) note's frequency over the Cramér-Rao bound.</param>
/// <param name="Reported">Mean variance that the readings claim, over the bound.</param>
/// <param name="Missed">Recordings that gave no reading.</param>
internal readonly record struct Scatter(double Ratio, double Reported, int Missed)
{
    private const double Rate = 48000;

    /// <summary>Of so many readings of notes near 440 Hz: 0.1 s of one note, 0.25 s of two.</summary>
    /// <param name="cents">Between the two notes; 0 for one.</param>
    /// <param name="decibels">Signal to noise, of everything periodic but hum.</param>
    public static Scatter Of(string shape, double cents, bool hum, double decibels, int trials, int seed)
    {
        double squares = 0, reported = 0;
        int missed = 0;
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
            if (reading is null)
            {
                missed++;
                continue;
            }
            squares += Math.Pow((reading.Frequency.Value - low) / deviation, 2);
            reported += Math.Pow(reading.Uncertainty / reading.Excess / deviation, 2);
        }
        return new(squares / (trials - missed), reported / (trials - missed), missed);
    }

    private static Series Truth(MadeTone tone, string shape, double hertz) =>
        new(2 * Math.PI * hertz / Rate, [.. Enumerable.Range(1, tone.Harmonics(shape, hertz)).Where(k => Math.Abs(MadeTone.Size(shape, k)) > 1e-12)]);
}
