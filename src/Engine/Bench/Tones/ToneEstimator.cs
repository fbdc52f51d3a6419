using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Bench.Tones;

/// <summary>
/// Reads the frequency of a steady note, or of two near unison, out of samples, with its uncertainty. Guessed from the
/// spectrum, then fitted with all its harmonics, and mains hum beside it, by least squares.
/// </summary>
public static class ToneEstimator
{
    private const double Sure = 6; // standard uncertainties: two lines put into one note's noise lie closer than that
    private const double LeastShare = 0.5; // of the power of all lines: below it there is no one note

    /// <summary>One note; null with the reason when there is none.</summary>
    /// <param name="samples">One channel, full scale ±1.</param>
    /// <param name="rate">Samples in a second, by the recorder's clock.</param>
    /// <param name="mains">Hum to allow for.</param>
    /// <param name="step">Between neighbouring values that a sample can have: noise is never taken for less than theirs,
    /// step²/12 (Bennett, Bell System Technical Journal 27 (1948) 446, from memory).</param>
    public static (ToneReading? Reading, string? Why) One(ReadOnlySpan<double> samples, double rate, Mains mains = Mains.Either, double step = 0)
    {
        if (Guess(samples, 0) is not { } guess)
            return (null, "nothing periodic stands out of the noise");
        return ToneFit.One(new(samples), guess, Hums(mains, rate)) is { } fit && fit.Covariance() is { } covariance
            ? (Reading(fit, 0, covariance, 1, rate, step), null)
            : (null, "the note is too short or too unsteady for its frequency to be found");
    }

    /// <summary>Two notes near unison; null with the reason when there are not two.</summary>
    public static (PairReading? Reading, string? Why) Pair(ReadOnlySpan<double> samples, double rate, Mains mains = Mains.Either, double step = 0)
    {
        if (Guess(samples, PairSearch.Spread) is not { } guess)
            return (null, "nothing periodic stands out of the noise");
        const string NotTwo = "two notes cannot be told apart: record longer, or set them further apart (up to 50 cents)";
        if (ToneFit.Pair(new(samples), guess, Hums(mains, rate)) is not { } fit || fit.Covariance() is not { } covariance)
            return (null, NotTwo);
        (ToneReading low, ToneReading high) = (Reading(fit, 0, covariance, 2, rate, step), Reading(fit, 1, covariance, 2, rate, step));
        double beat = (fit.Series[1].Omega - fit.Series[0].Omega) * rate / (2 * Math.PI);
        double variance = covariance[0, 0] + covariance[1, 1] - 2 * covariance[0, 1];
        double uncertainty = Math.Sqrt(Noise(fit, step) * variance) * Math.Max(low.Excess, high.Excess) * rate / (2 * Math.PI);
        return beat > Sure * uncertainty ? (new(low, high, new(beat), uncertainty), null) : (null, NotTwo);
    }

    /// <summary>A first guess in rad per sample; null when there is no note.</summary>
    internal static double? Guess(ReadOnlySpan<double> samples, double spread)
    {
        const int LeastSamples = 64;
        if (samples.Length < LeastSamples)
            return null;
        return ToneSearch.In(new(samples), spread) is { Share: > LeastShare } guess ? 2 * Math.PI * guess.Bin / samples.Length : null;
    }

    /// <summary>The frequencies of hum, rad per sample.</summary>
    internal static double[] Hums(Mains mains, double rate) =>
        mains switch
        {
            Mains.None => [],
            Mains.Fifty => [2 * Math.PI * 50 / rate],
            Mains.Sixty => [2 * Math.PI * 60 / rate],
            _ => [2 * Math.PI * 50 / rate, 2 * Math.PI * 60 / rate],
        };

    private static ToneReading Reading(SeriesFit fit, int series, double[,] covariance, int notes, double rate, double step)
    {
        PhaseWander wander = PhaseWander.Of(fit, series);
        double omega = fit.Series[series].Omega, perHertz = rate / (2 * Math.PI);
        double uncertainty = Math.Sqrt(Noise(fit, step) * covariance[series, series]) * wander.Excess * perHertz;
        double power = Power(fit, series);
        return new(
            new(omega * perHertz),
            uncertainty,
            wander.Excess,
            1200 / Math.Log(2) * wander.Drift / omega,
            10 * Math.Log10(power / Noise(fit, step)),
            fit.Series.Length > notes ? 10 * Math.Log10(Power(fit, notes) / power) : null,
            [.. Harmonics(fit, series)]
        );
    }

    private static double Noise(SeriesFit fit, double step) => Math.Max(fit.Variance, step * step / 12);

    private static double Power(SeriesFit fit, int series)
    {
        double power = 0;
        foreach (Amplitude amplitude in fit.Of(series))
            power += 0.5 * amplitude.Square;
        return power;
    }

    private static IEnumerable<Harmonic> Harmonics(SeriesFit fit, int series)
    {
        Amplitude[] amplitudes = fit.Of(series).ToArray();
        for (int i = 0; i < amplitudes.Length; i++)
            yield return new(fit.Series[series].Harmonics[i], Math.Sqrt(amplitudes[i].Square), Math.Atan2(-amplitudes[i].Sin, amplitudes[i].Cos));
    }
}
