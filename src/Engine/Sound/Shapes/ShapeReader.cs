using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Sound.Shapes;

/// <summary>Makes a shape of one period of a circuit's wave, taken at the run's own steps.</summary>
public static class ShapeReader
{
    // The skeleton stays within this share of the height; the rest is the table's.
    private const double Near = 0.01;

    // A wave whose skeleton bends by less, heights a period for each period, has no corner: it is all table. A triangle bends by 4.
    private const double Sharp = 2;

    /// <summary>Most harmonics that a table holds: 20 Hz up to 20 kHz.</summary>
    public const int MostHarmonics = 1000;

    /// <summary>The shape up to a frequency.</summary>
    /// <param name="times">Rising, a whole period from first to last, s.</param>
    /// <param name="values">There; the last equals the first but for what a period differs from the next.</param>
    /// <param name="highest">Frequency above which nothing is heard, Hz.</param>
    public static WaveShape Read(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double highest) =>
        Wave(times, values, highest).Shape(MostHarmonics);

    /// <summary>The wave with its harmonics up to a frequency.</summary>
    public static ReadWave Wave(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double highest)
    {
        double period = times[^1] - times[0];
        double[] phases = new double[times.Length];
        double[] wave = new double[times.Length];
        double close = values[^1] - values[0];
        for (int i = 0; i < phases.Length; i++)
        {
            phases[i] = (times[i] - times[0]) / period;
            wave[i] = values[i] - close * phases[i]; // the period closes exactly
        }
        phases[^1] = 1;
        HarmonicReading all = HarmonicReading.OfPeriod(phases, wave, Math.Clamp((int)(highest * period), 1, MostHarmonics));
        return new([.. Corners(phases, wave)], all.Mean, all.Lines);
    }

    private static List<(double, double)> Corners(double[] phases, double[] wave)
    {
        double height = wave.Max() - wave.Min();
        if (!(height > 0))
            return [(0, wave[0]), (1, wave[0])];
        List<int> kept = Skeleton.Keep(phases, wave, Near * height);
        List<(double Phase, double Value)> points = [.. kept.Select(i => (phases[i], wave[i]))];
        WaveShape shape = WaveShape.Of(points);
        bool isSharp = shape.Bends.Any(bend => Math.Abs(bend) > Sharp * height) || shape.Jumps.Any(jump => Math.Abs(jump) > Near * height);
        return isSharp ? points : [(0, 0), (1, 0)];
    }
}
