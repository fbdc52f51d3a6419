namespace Consort.Engine.Bench.Tones;

/// <summary>
/// Whether a note kept its frequency: its phase in pieces of the recording, against a steady note's. A fit's own
/// uncertainty supposes white noise; where the pieces stray further than that, the uncertainty grows with them.
/// </summary>
/// <param name="Excess">How much further the pieces stray than noise would make them, at least 1: the factor on the
/// frequency's standard uncertainty (Birge's ratio; Birge, Phys. Rev. 40 (1932) 207, from memory).</param>
/// <param name="Drift">Change of frequency from beginning to end, rad per sample.</param>
internal readonly record struct PhaseWander(double Excess, double Drift)
{
    private const int Pieces = 16;

    /// <summary>Of one series of a fit.</summary>
    public static PhaseWander Of(SeriesFit fit, int series)
    {
        double[] rest = fit.Rest();
        double[] slope = new double[rest.Length];
        Amplitude[] amplitudes = fit.Of(series).ToArray();
        int[] multiples = [.. fit.Series[series].Harmonics];
        TrigSums.Add(
            slope,
            [.. multiples.Select(k => k * fit.Series[series].Omega)],
            [.. multiples.Select((k, i) => k * amplitudes[i].Sin)],
            [.. multiples.Select((k, i) => -k * amplitudes[i].Cos)]
        );
        return Of(rest, slope, fit.Variance);
    }

    private static PhaseWander Of(double[] rest, double[] slope, double variance)
    {
        double strays = 0, bend = 0, weight = 0;
        for (int piece = 0; piece < Pieces; piece++)
        {
            int from = (int)((long)rest.Length * piece / Pieces), to = (int)((long)rest.Length * (piece + 1) / Pieces);
            double common = 0, own = 0;
            for (int i = from; i < to; i++)
            {
                common += rest[i] * slope[i];
                own += slope[i] * slope[i];
            }
            if (own <= 0)
                continue;
            double phase = common / own;
            strays += phase * phase * own / variance;
            // What a steady drift would make of the phase: a parabola without mean, over −1 to 1 of half the length.
            double at = (2.0 * piece + 1) / Pieces - 1, parabola = at * at - 1.0 / 3;
            bend += own * parabola * phase;
            weight += own * parabola * parabola;
        }
        double half = 0.5 * rest.Length;
        double excess = variance > 0 ? Math.Sqrt(Math.Max(1, strays / (Pieces - 2))) : 1;
        return new(excess, weight > 0 ? 4 * bend / weight / half : 0);
    }
}
