using System.Collections.Immutable;

namespace Consort.Engine.Bench.Tones;

/// <summary>The stages by which a note, or two that sound together, is fitted: few multiples first, which forgive a rough
/// guess, then all of them; then hum; then what is too weak to be there is left out again.</summary>
internal static class ToneFit
{
    private const int MostHarmonics = 512;
    private const int FirstHarmonics = 4;
    private const int Steps = 30;
    private const double FalseAlarm = 0.01; // chance that any multiple is kept of noise alone

    /// <summary>One note, from a guess in rad per sample.</summary>
    /// <param name="mains">Frequencies of hum to allow for, rad per sample; empty for none.</param>
    /// <returns>The fit, its series 0 the note, series 1 hum where there is any; null when there is none.</returns>
    public static SeriesFit? One(FoldedSignal signal, double guess, double[] mains) => Plainest(OneAt(signal, guess, mains), notes: 1, omega => OneAt(signal, omega, mains));

    private static SeriesFit? OneAt(FoldedSignal signal, double guess, ReadOnlySpan<double> mains)
    {
        CosineSums kernel = new(signal.Count);
        return Widened(signal, kernel, [guess]) is { } fit ? Finished(signal, kernel, fit, mains) : null;
    }

    /// <summary>Two notes near unison, from a guess of where they lie.</summary>
    /// <returns>The fit, its series 0 and 1 the notes, the lower one first; null when they cannot be told apart.</returns>
    public static SeriesFit? Pair(FoldedSignal signal, double guess, double[] mains) => Plainest(PairAt(signal, guess, mains), notes: 2, omega => PairAt(signal, omega, mains));

    private static SeriesFit? PairAt(FoldedSignal signal, double guess, ReadOnlySpan<double> mains)
    {
        int count = PairSearch.Count(signal.Count, guess);
        FoldedSignal middle = new(signal.Samples.Slice((signal.Count - count) / 2, count));
        if (PairSearch.In(middle, guess) is not { } start)
            return null;
        (double low, double high) = start;
        while (true)
        {
            CosineSums kernel = new(middle.Count);
            if (Widened(middle, kernel, [low, high]) is not { } fit)
                return null;
            if (middle.Count == signal.Count)
                return Finished(signal, kernel, fit, mains) is { } found && found.Series[0].Omega < found.Series[1].Omega ? found : null;
            (low, high) = (fit.Series[0].Omega, fit.Series[1].Omega);
            count = Math.Min(signal.Count, 4 * middle.Count);
            middle = new(signal.Samples.Slice((signal.Count - count) / 2, count));
        }
    }

    // Hum near a third of a note's frequency may look like the note, and the note like its third multiple. Where nearly all
    // stands in every second, third... multiple, the higher note is fitted too, and the shorter description is taken: a true
    // weak half of a note leaves too much over without it.
    private static SeriesFit? Plainest(SeriesFit? fit, int notes, Func<double, SeriesFit?> at)
    {
        const int MostFraction = 9;
        const double NearlyAll = 0.9; // of the power: hum is seldom louder than 10 dB below the note
        if (fit is null)
            return null;
        for (int fraction = 2; fraction <= MostFraction; fraction++)
        {
            double higher = fraction * Enumerable.Range(0, notes).Average(p => fit.Series[p].Omega);
            if (higher < Series.Highest && Held(fit, notes, fraction) > NearlyAll && at(higher) is { } other && other.Description < fit.Description)
                return Plainest(other, notes, at);
        }
        return fit;
    }

    // Share of the notes' power in every so-many-th multiple.
    private static double Held(SeriesFit fit, int notes, int fraction)
    {
        double held = 0, all = 0;
        for (int p = 0; p < notes; p++)
        {
            ReadOnlySpan<Amplitude> amplitudes = fit.Of(p);
            for (int i = 0; i < amplitudes.Length; i++)
            {
                all += amplitudes[i].Square;
                held += fit.Series[p].Harmonics[i] % fraction == 0 ? amplitudes[i].Square : 0;
            }
        }
        return held / all;
    }

    /// <summary>Fits more and more multiples.</summary>
    private static SeriesFit? Widened(FoldedSignal signal, CosineSums kernel, double[] guesses)
    {
        double[] omegas = guesses;
        int most = Series.First(omegas[0], Most(signal, omegas.Length)).Harmonics.Length;
        for (int harmonics = Math.Min(FirstHarmonics * omegas.Length, most); ; harmonics = Math.Min(most, 3 * harmonics))
        {
            SeriesFit? fit = SeriesFit.At(signal, kernel, [.. omegas.Select(omega => Series.First(omega, harmonics))]);
            if (fit is null)
                return null;
            fit.Improve(harmonics == most ? 1 : 4);
            omegas = [.. fit.Series.Select(one => one.Omega)];
            if (harmonics == most)
                return fit;
        }
    }

    // No more unknowns than a quarter of the samples.
    private static int Most(FoldedSignal signal, int notes) => Math.Min(MostHarmonics, signal.Count / 8) / notes;

    /// <summary>Takes hum in, leaves out what is not there, and comes to rest.</summary>
    private static SeriesFit? Finished(FoldedSignal signal, CosineSums kernel, SeriesFit start, ReadOnlySpan<double> mains)
    {
        int notes = start.Series.Length;
        SeriesFit? fit = Kept(signal, kernel, start, notes);
        if (fit is null || !fit.Improve(Steps))
            return null;
        return Hum.In(fit.Rest(), mains, fit.Series) is { } hum && BesideHum(signal, kernel, fit, hum) is { } cleaner ? cleaner : fit;
    }

    // Beside hum a weak multiple may have looked like noise: all of them are tried again without it. What does not come to
    // rest was no hum.
    private static SeriesFit? BesideHum(FoldedSignal signal, CosineSums kernel, SeriesFit fit, Series hum)
    {
        int notes = fit.Series.Length;
        SeriesFit? wide = SeriesFit.At(signal, kernel, [.. fit.Series.Select(one => Series.First(one.Omega, Most(signal, notes))), hum]);
        wide?.Improve(2);
        SeriesFit? kept = wide is null ? null : Kept(signal, kernel, wide, notes);
        return kept is not null && kept.Improve(Steps) ? kept : null;
    }

    /// <summary>The same with only the multiples that noise would hardly make: a² + b² of noise is exponential about
    /// 4σ²/N.</summary>
    private static SeriesFit? Kept(FoldedSignal signal, CosineSums kernel, SeriesFit fit, int notes)
    {
        int all = fit.Series.Sum(one => one.Harmonics.Length);
        double least = 4 * fit.Variance / signal.Count * Math.Log(all / FalseAlarm);
        List<Series> kept = [];
        for (int p = 0; p < fit.Series.Length; p++)
        {
            Amplitude[] amplitudes = fit.Of(p).ToArray();
            ImmutableArray<int> harmonics = [.. fit.Series[p].Harmonics.Where((_, i) => amplitudes[i].Square > least)];
            if (!harmonics.IsEmpty)
                kept.Add(fit.Series[p] with { Harmonics = harmonics });
            else if (p < notes)
                return null;
        }
        return SeriesFit.At(signal, kernel, [.. kept]);
    }
}
