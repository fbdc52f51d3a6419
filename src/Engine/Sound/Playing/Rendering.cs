using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Sound.Playing;

/// <summary>A score as sound, in volts at the mixer's output, with the laws that it was made from.</summary>
/// <param name="Voice">The voice's name.</param>
/// <param name="Settings">How it was played.</param>
/// <param name="Laws">What was read of its oscillators.</param>
/// <param name="Range">Lowest and highest control voltage, the strips' intervals included, V.</param>
/// <param name="Stands">Where each moved player stands, V.</param>
/// <param name="Left">Left side, V.</param>
/// <param name="Right">Right side, V.</param>
public sealed record Rendering(
    string Voice,
    SoundSettings Settings,
    ImmutableArray<SoundLaw> Laws,
    (double Low, double High) Range,
    ImmutableArray<double> Stands,
    float[] Left,
    float[] Right
)
{
    /// <summary>Reads a prepared voice's laws and plays on them.</summary>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public static (Rendering? Rendering, SolveFailure? Failure) Of(
        PlayedVoice voice,
        SoundSettings settings,
        int threads,
        IProgress<(string, double)>? progress,
        CancellationToken cancel
    )
    {
        LawReader reader = new(voice, settings, threads);
        (ImmutableArray<SoundLaw> laws, SolveFailure? failure) = reader.Read(progress, cancel);
        if (failure is not null)
            return (null, failure);
        ImmutableArray<double> stands = [.. settings.Moves.Select(move => voice.Circuit[$"{move.Player}/V", "value"])];
        (float[] left, float[] right) = new Renderer(settings, laws, stands).Run(progress, cancel);
        return (new(voice.Voice.Name, settings, laws, reader.Range, stands, left, right), null);
    }

    /// <summary>The same waves with every oscillator exactly where it is meant to stand.</summary>
    public Rendering Ideal(CancellationToken cancel)
    {
        ImmutableArray<SoundLaw> ideal = [.. Laws.Select(law => law with { Pitch = new(law.Oscillator, []), Noise = null, Drift = null })];
        (float[] left, float[] right) = new Renderer(Settings, ideal, Stands).Run(null, cancel);
        return this with { Voice = $"{Voice}, ideal pitch", Laws = ideal, Left = left, Right = right };
    }

    /// <summary>The same, named as a build.</summary>
    public Rendering OfBuild(long number) => this with { Voice = $"{Voice}, build {number}" };

    /// <summary>Highest peak of both sides, V.</summary>
    public double Peak => Math.Max(Left.Max(Math.Abs), Right.Max(Math.Abs));

    /// <summary>Both sides as samples of a file, one after the other.</summary>
    public float[] Samples(double voltsAtFullScale)
    {
        float[] both = new float[2 * Left.Length];
        for (int n = 0; n < Left.Length; n++)
            (both[2 * n], both[2 * n + 1]) = ((float)(Left[n] / voltsAtFullScale), (float)(Right[n] / voltsAtFullScale));
        return both;
    }
}
