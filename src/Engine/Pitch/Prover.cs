using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Chain;
using Consort.Engine.Pitch.Verdicts;

namespace Consort.Engine.Pitch;

/// <summary>Proves a voice: wires it up, trims every oscillator, reads the keyboard at three temperatures, splits the
/// errors by cause, finds how long the chain may be, compares its own short cuts with the long way, and judges.</summary>
/// <param name="threads">How many threads may work; the result does not depend on it.</param>
public sealed class Prover(int threads)
{
    /// <summary>25 °C, where trimming is done, K.</summary>
    public const double BenchKelvin = 298.15;

    private const double LeastOctaves = 9;

    /// <summary>The main run.</summary>
    /// <param name="voice">A voice that was read without error.</param>
    /// <param name="progress">Told the stage and how much of the whole is done, 0 to 1.</param>
    /// <param name="cancel">Looked at between stages.</param>
    /// <returns>The proof, or why there is none.</returns>
    public (Proof? Proof, Unproved? Failure) Run(
        Voice voice,
        IProgress<(string Stage, double Done)>? progress = null,
        CancellationToken cancel = default
    )
    {
        void Tell(string stage, double done)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report((stage, done));
        }

        Tell("wiring up", 0);
        PlayedVoice played = PlayedVoice.Of(voice);
        if (played.Oscillators.IsEmpty)
            return (null, new("the voice has no oscillator with a circuit", "give at least one module a circuit and 'pitch'"));
        if (played.Prepare() is { } unready)
            return (null, Because(unready));

        Tell("trimming", 0.05);
        (ImmutableArray<TrimResult> trims, SolveFailure? untrimmed) = VoiceTrimming.Run(played, threads);
        if (untrimmed is not null)
            return (null, Because(untrimmed));
        Voice trimmed = VoiceTrimming.WithTrims(voice, trims);

        Tell("reading the keyboard", 0.3);
        (OscillatorSheet[]? sheets, SolveFailure? unread) = ReadSheets(played, voice);
        if (sheets is null)
            return (null, Because(unread!));

        Tell("lengthening the chain", 0.75);
        (ChainStudy? chain, SolveFailure? unchained) = voice.Ribbons.IsEmpty ? (null, null) : ChainLimit.Run(trimmed, threads);
        if (unchained is not null)
            return (null, Because(unchained));

        Tell("checking against the long way", 0.85);
        ImmutableArray<AccuracyNote> accuracy = new SelfCheck(played, sheets, threads).Run();

        Tell("judging", 0.99);
        SupplyLoad supply = SupplyLoad.Of(played);
        ImmutableArray<BoughtTracking> bought = BoughtTracking.Of(played, BudgetNotes(voice), sheets[0].Oscillator.Spec.VoltsPerOctave);
        return (Judge.Proof(voice, sheets, trims, chain, supply, bought, accuracy), null);
    }

    private (OscillatorSheet[]? Sheets, SolveFailure? Failure) ReadSheets(PlayedVoice played, Voice voice)
    {
        double[] notes = Notes(voice);
        double[] kelvins = [BenchKelvin, voice.Limits.ColdKelvin, voice.Limits.WarmKelvin];
        double[] budgetNotes = BudgetNotes(voice);
        (OscillatorSheet? Sheet, SolveFailure? Failure)[] read = new (OscillatorSheet?, SolveFailure?)[played.Oscillators.Length];
        Parallel.For(
            0,
            read.Length,
            new ParallelOptions { MaxDegreeOfParallelism = threads },
            i => read[i] = OscillatorSheet.Read(played.Twin(), played.Oscillators[i], notes, kelvins, budgetNotes)
        );
        return read.FirstOrDefault(r => r.Failure is not null).Failure is { } failure
            ? (null, failure)
            : ([.. read.Select(r => r.Sheet!)], null);
    }

    /// <summary>An octave apart over all that the keyboard plays, nine octaves at least.</summary>
    public static double[] Notes(Voice voice)
    {
        double octave = voice.Members.Select(member => member.Module.Pitch?.VoltsPerOctave).FirstOrDefault(v => v is not null) ?? 1;
        Player? keyboard = voice.Players.FirstOrDefault(player => player.IsPitch);
        double low = keyboard?.Low ?? 0;
        double octaves = Math.Max(LeastOctaves, Math.Round(((keyboard?.High ?? 0) - low) / octave));
        return [.. Enumerable.Range(0, (int)octaves + 1).Select(i => low + i * octave)];
    }

    /// <summary>The octaves over which tracking is asked.</summary>
    public static double[] BudgetNotes(Voice voice)
    {
        double from = voice.Limits.LowestVoltage;
        double octave = voice.Members.Select(member => member.Module.Pitch?.VoltsPerOctave).FirstOrDefault(v => v is not null) ?? 1;
        return [.. Enumerable.Range(0, (int)Math.Floor(voice.Limits.Octaves) + 1).Select(i => from + i * octave)];
    }

    private static Unproved Because(SolveFailure failure) =>
        new(failure.ToString(), "look at that net with 'consort solve' on the module's circuit, at rest and with --until");
}
