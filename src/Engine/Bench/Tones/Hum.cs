using System.Collections.Immutable;

namespace Consort.Engine.Bench.Tones;

/// <summary>Finds hum of the mains, with its multiples, in what a fit has left over. The mains' frequency is looked for
/// around its nominal value: grids wander by some tenths of a hertz (common practice, no source).</summary>
internal static class Hum
{
    private const int Harmonics = 10;
    private const int Lowest = 3; // hum without its first three multiples is something else
    private const double Wander = 0.008; // either way, of the nominal frequency: 0.4 Hz of 50 Hz
    private const double FalseAlarm = 1e-3;
    private const double LeastApart = 1.5; // lines between hum and the note

    /// <summary>The hum as a series; null when there is none, or when it cannot be told from what was fitted.</summary>
    /// <param name="rest">What is left over.</param>
    /// <param name="nominal">Mains frequencies that it may have, rad per sample.</param>
    /// <param name="fitted">What was fitted.</param>
    public static Series? In(double[] rest, ReadOnlySpan<double> nominal, ImmutableArray<Series> fitted)
    {
        FoldedSignal signal = new(rest);
        double line = 2 * Math.PI / signal.Count;
        (double Omega, ImmutableArray<int> Harmonics, double Held) best = (0, [], 0);
        foreach (double mains in nominal)
        {
            int steps = (int)Math.Ceiling(Wander * mains / (line / 16));
            for (int step = -steps; step <= steps; step++)
            {
                double omega = mains * (1 + Wander * step / Math.Max(1, steps));
                int[] free = [.. Enumerable.Range(1, Harmonics).Where(m => IsFree(m * omega, line, fitted))];
                TrigSum[] sums = TrigSums.Of(signal, [.. free.Select(m => m * omega)]);
                double least = signal.Energy * Math.Log(2 * Harmonics * (2 * steps + 1) / FalseAlarm);
                double[] held = [.. sums.Select(sum => sum.Cos * sum.Cos + sum.Sin * sum.Sin)];
                if (held.Sum() > best.Held)
                    best = (omega, [.. free.Where((_, i) => held[i] > least)], held.Sum());
            }
        }
        return best.Harmonics.IsEmpty || best.Harmonics[0] > Lowest ? null : new(best.Omega, best.Harmonics);
    }

    private static bool IsFree(double omega, double line, ImmutableArray<Series> fitted)
    {
        if (omega < LeastApart * line || omega > Series.Highest)
            return false;
        foreach (Series one in fitted)
        {
            double k = Math.Clamp(Math.Round(omega / one.Omega), 1, one.Harmonics[^1]);
            if (Math.Abs(omega - k * one.Omega) < LeastApart * line)
                return false;
        }
        return true;
    }
}
