namespace Consort.Engine.Bench.Tones;

/// <summary>A first guess of a note's frequency: the highest one whose multiples hold nearly all that stands out of the
/// spectrum.</summary>
internal static class ToneSearch
{
    private const int Leaders = 8; // lines that may be a low multiple of the note
    private const int MostMultiple = 16;
    private const double AllBut = 0.02; // of the power; half the note's frequency always holds as much as the note
    private const double LeastBins = 3; // periods in the recording

    /// <summary>The guess.</summary>
    /// <param name="Bin">In lines of 1/N of the sampling frequency.</param>
    /// <param name="Share">Of the lines' power that its multiples hold, 0 to 1.</param>
    public readonly record struct Guess(double Bin, double Share);

    /// <summary>Looks for a note; null when nothing periodic stands out.</summary>
    /// <param name="spread">How far lines may lie from its multiples, of its frequency, where several sound near unison.</param>
    public static Guess? In(LineSpectrum spectrum, double spread = 0)
    {
        Line[] lines = spectrum.Lines;
        double all = lines.Sum(line => line.Power);
        List<(double Bin, double Held)> candidates = [];
        foreach (Line leader in lines.Take(Leaders))
            for (int m = 1; m <= MostMultiple && leader.Bin / m >= LeastBins; m++)
                candidates.Add((leader.Bin / m, Held(lines, leader.Bin / m, m, spread)));
        if (candidates.Count == 0)
            return null;
        double most = candidates.Max(candidate => candidate.Held);
        double best = candidates.Where(candidate => candidate.Held >= (1 - AllBut) * most).Max(candidate => candidate.Bin);
        return new(Refined(lines, best, spread), most / all);
    }

    // A guess from the m-th multiple is m times as sure as one bin, and its k-th multiple k/m times as unsure.
    private static double Tolerance(double bin, double k, double m, double spread) =>
        Math.Min(0.25 * bin, 0.4 + 0.2 * k / m + k * bin * spread);

    private static double Held(Line[] lines, double bin, int m, double spread)
    {
        double held = 0;
        foreach (Line line in lines)
        {
            double k = Math.Round(line.Bin / bin);
            if (k >= 1 && Math.Abs(line.Bin - k * bin) < Tolerance(bin, k, m, spread))
                held += line.Power;
        }
        return held;
    }

    // Least squares through its lines, each weighed by its power.
    private static double Refined(Line[] lines, double bin, double spread)
    {
        double above = 0, below = 0;
        foreach (Line line in lines)
        {
            double k = Math.Round(line.Bin / bin);
            if (k < 1 || Math.Abs(line.Bin - k * bin) >= Tolerance(bin, k, k, spread))
                continue;
            above += line.Power * k * line.Bin;
            below += line.Power * k * k;
        }
        return below > 0 ? above / below : bin;
    }
}
