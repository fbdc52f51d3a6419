using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Expected;

/// <summary>One adjustment as the bench needs it.</summary>
/// <param name="Trimmer">Designator.</param>
/// <param name="Purpose">What for.</param>
/// <param name="LowVolts">Lower control voltage; NaN when there is one only.</param>
/// <param name="LowHertz">Target there.</param>
/// <param name="HighVolts">The only or higher control voltage; NaN for trims that are none of pitch.</param>
/// <param name="HighHertz">Target there.</param>
/// <param name="ClockwiseRaises">True when clockwise makes the pitch at the higher voltage rise (tracking: the interval
/// grow); null when it is not known.</param>
/// <param name="Turns">Of the trimmer's whole travel.</param>
/// <param name="Position">Where the design comes to stand, from the counter-clockwise end, 0 to 1.</param>
/// <param name="CentsPerTurn">What a turn does; tracking: cents an octave; NaN when it is not known.</param>
public sealed record TrimLine(
    string Trimmer,
    TrimPurpose Purpose,
    double LowVolts,
    double LowHertz,
    double HighVolts,
    double HighHertz,
    bool? ClockwiseRaises,
    double Turns,
    double Position,
    double CentsPerTurn
);

/// <summary>The trims of one oscillator of the voice, in the order of its sheet.</summary>
/// <param name="Oscillator">The member.</param>
/// <param name="Lines">One for each trim.</param>
public sealed record TrimTable(Oscillator Oscillator, ImmutableArray<TrimLine> Lines)
{
    /// <summary>Of every oscillator: the design is trimmed within the voice, and where its trimmers came to stand is told.</summary>
    public static (ImmutableArray<TrimTable> Sheets, SolveFailure? Failure) All(Voice voice, int threads)
    {
        PlayedVoice played = PlayedVoice.Of(voice);
        if (played.Oscillators.IsEmpty)
            return ([], null);
        if (played.Prepare() is { } unready)
            return ([], unready);
        (ImmutableArray<TrimResult> results, SolveFailure? failure) = VoiceTrimming.Run(played, threads);
        return failure is not null
            ? ([], failure)
            : ([.. played.Oscillators.Select(oscillator => new TrimTable(oscillator, [.. oscillator.Member.Module.Trims.Select(step => Line(oscillator, step, results))]))], null);
    }

    private static TrimLine Line(Oscillator oscillator, TrimStep step, ImmutableArray<TrimResult> results)
    {
        Part trimmer = oscillator.Member.Module.Circuit.First(part => part.Name == step.Trimmer);
        TrimResult? result = results.FirstOrDefault(result => result.Oscillator == oscillator.Name && result.Trimmer == step.Trimmer && result.Purpose == step.Purpose);
        bool isPitch = step.Purpose != TrimPurpose.Other, hasLow = step.Purpose == TrimPurpose.Tracking;
        double slope = result?.CentsPerTurn ?? double.NaN;
        return new(
            step.Trimmer,
            step.Purpose,
            hasLow ? step.Low : double.NaN,
            hasLow ? oscillator.IdealHertz(step.Low) : double.NaN,
            isPitch ? step.High : double.NaN,
            isPitch ? oscillator.IdealHertz(step.High) : double.NaN,
            double.IsNaN(slope) || slope == 0 ? null : slope > 0,
            trimmer.Number("turns"),
            result?.Position ?? trimmer.Number("position"),
            slope
        );
    }
}
