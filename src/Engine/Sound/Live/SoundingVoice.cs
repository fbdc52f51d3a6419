using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Playing;

namespace Consort.Engine.Sound.Live;

/// <summary>All that is heard of a voice over its whole keyboard, ready to be played live by any number of players at once.</summary>
/// <param name="Name">The voice's name.</param>
/// <param name="Settings">The mixer and the players that can be moved.</param>
/// <param name="Laws">What was read of its oscillators.</param>
/// <param name="Stands">Where each moved player stands, V.</param>
/// <param name="LowVolts">Lowest control voltage that the keyboard sends, V.</param>
/// <param name="HighVolts">Highest.</param>
public sealed record SoundingVoice(string Name, SoundSettings Settings, ImmutableArray<SoundLaw> Laws, ImmutableArray<double> Stands, double LowVolts, double HighVolts)
{
    /// <summary>How far players can be moved either way, V: what modulation sources of this trade commonly give (no source).</summary>
    public const double MoveVolts = 5;

    /// <summary>How much warmer and colder than when it was read it can be made, K.</summary>
    public const double WarmerKelvin = 15;

    /// <summary>Temperature at which it was read, K.</summary>
    public double Kelvin { get; init; } = Constants.ReferenceTemperature;

    /// <summary>Reads a prepared voice over its whole keyboard.</summary>
    /// <param name="voice">Prepared, its controls where they are to stand.</param>
    /// <param name="strips">The mixer; without intervals of their own.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="progress">Told the stage and the share that is done.</param>
    /// <param name="cancel">Looked at between oscillators.</param>
    /// <param name="withUnrest">Reads noise and drift as well.</param>
    public static (SoundingVoice? Voice, SolveFailure? Failure) Of(
        PlayedVoice voice,
        ImmutableArray<Strip> strips,
        int threads,
        IProgress<(string, double)>? progress,
        CancellationToken cancel,
        bool withUnrest = false
    )
    {
        double kelvin = voice.Circuit.Temperature;
        ImmutableArray<Modulation> moves = [.. voice.Voice.Players.Where(player => !player.IsPitch).Select(player => new Modulation(player.Name, false, 1, 0, MoveVolts))];
        Design.Player? keyboard = voice.Voice.Players.FirstOrDefault(player => player.IsPitch);
        (double low, double high) = (keyboard?.Low ?? 0, keyboard?.High ?? 5);
        Oscillator first = voice.Oscillators[0];
        SoundSettings settings = new(new([new(0, KeyOf(first, low)), new(1, KeyOf(first, high)), new(2, null)], 2), strips, moves)
        {
            HasNoise = withUnrest,
            Course = withUnrest ? new([(0, kelvin - WarmerKelvin), (2, kelvin + WarmerKelvin)]) : null, // for the range that is read
        };
        (ImmutableArray<SoundLaw> laws, SolveFailure? failure) = new LawReader(voice, settings, threads).Read(progress, cancel);
        return failure is not null ? (null, failure) : (new(voice.Voice.Name, settings, laws, [.. moves.Select(move => voice.Circuit[$"{move.Player}/V", "value"])], low, high) { Kelvin = kelvin }, null);
    }

    /// <summary>The key, between two if need be, that sends a voltage.</summary>
    public static double KeyOf(Oscillator first, double volts) =>
        69 + 12 * Math.Log2(first.Spec.ReferenceFrequency * Math.Pow(2, (volts - first.Spec.ReferenceVoltage) / first.Spec.VoltsPerOctave) / NoteName.Hertz(69));

    /// <summary>A player of it, silent until a key is pressed.</summary>
    public LiveRenderer Player() => new(Settings, Laws, Stands, 0.5 * (LowVolts + HighVolts), Kelvin);
}
