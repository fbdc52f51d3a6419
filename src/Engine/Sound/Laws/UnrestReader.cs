using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Drift;
using Consort.Engine.Sound.Noise;
using Consort.Engine.Sound.Playing;

namespace Consort.Engine.Sound.Laws;

/// <summary>Reads noise and drift of an oscillator, as far as they were asked for.</summary>
internal static class UnrestReader
{
    /// <summary>The same law with them.</summary>
    /// <param name="range">Lowest and highest control voltage that is played, V.</param>
    public static (SoundLaw? Law, SolveFailure? Failure) Read(SoundLaw law, PlayedVoice voice, SoloOscillator solo, SoundSettings settings, (double Low, double High) range)
    {
        double[] alive = [.. law.Pitch.Points.Select(point => point.Volts)];
        if (settings.HasNoise)
        {
            (NoiseLaw? noise, SolveFailure? failure) = NoiseOf(law, voice, solo, Ends(alive, range));
            if (noise is null)
                return (null, failure);
            law = law with { Noise = noise };
        }
        if (settings.Course is { } course)
        {
            (DriftLaw? drift, SolveFailure? failure) = DriftReader.Read(voice, solo, course.Range(settings.Score.Seconds + settings.Release), alive);
            if (drift is null)
                return (null, failure);
            law = law with { Drift = drift };
        }
        return (law, null);
    }

    // Lowest, middle and highest of what is played, where it oscillates.
    private static double[] Ends(double[] alive, (double Low, double High) range)
    {
        double[] wanted = [range.Low, 0.5 * (range.Low + range.High), range.High];
        return [.. wanted.Select(volts => Math.Clamp(volts, alive[0], alive[^1])).Distinct()];
    }

    private static (NoiseLaw?, SolveFailure?) NoiseOf(SoundLaw law, PlayedVoice voice, SoloOscillator solo, double[] volts)
    {
        List<PeriodNoise> periods = [];
        foreach (double note in volts)
        {
            (PeriodNoise? noise, SolveFailure? failure) = PeriodNoiseReader.Read(voice, solo, note);
            if (noise is null)
                return (null, failure);
            periods.Add(noise);
        }
        (ImmutableArray<OutputNoise> outputs, SolveFailure? unread) = OutputNoiseReader.Read(voice, solo, [.. law.Waves.Keys.Order(StringComparer.Ordinal)], volts[volts.Length / 2]);
        return unread is null ? (new([.. periods], outputs, []), null) : (null, unread);
    }
}
