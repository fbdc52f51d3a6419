using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;
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

    /// <summary>Builds that are to be made as well; null for none.</summary>
    public SpreadRequest? Spread { get; init; }

    /// <summary>The number of a build that is to be proved instead of the design; it needs <see cref="Spread"/>.</summary>
    public long? Build { get; init; }

    /// <summary>Told the curves, of all oscillators at the bench's temperature first, as soon as they are read; null for nobody.</summary>
    internal Action<ImmutableArray<TrackingCurve>>? Curves { get; init; }

    /// <summary>Told what is known before builds are made, the chain is lengthened and anything is checked; null for nobody.</summary>
    internal Action<Proof>? Early { get; init; }

    /// <summary>Told what builds are made with, once it is ready; null for nobody.</summary>
    internal Action<VoiceBuilds>? Readied { get; init; }

    /// <summary>The main run.</summary>
    /// <param name="voice">A voice that was read without error.</param>
    /// <param name="progress">Told the stage and how much of the whole is done, 0 to 1.</param>
    /// <param name="cancel">Looked at between stages and before each reading.</param>
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
        PlayedVoice played = PlayedVoice.Of(voice, cancel);
        if (played.Oscillators.IsEmpty)
            return (null, new("the voice has no oscillator with a circuit", "give at least one module a circuit and 'pitch'"));
        if (played.Prepare() is { } unready)
            return (null, Because(unready));

        Tell("trimming", 0.05);
        (ImmutableArray<TrimResult> trims, SolveFailure? untrimmed) = VoiceTrimming.Run(played, threads);
        if (untrimmed is not null)
            return (null, Because(untrimmed));
        Voice trimmed = VoiceTrimming.WithTrims(voice, trims);

        if (Build is { } number)
            return RunBuild(played, voice, number, Tell);

        Tell("reading the keyboard", 0.3);
        (OscillatorSheet[]? sheets, SolveFailure? unread) = ReadSheets(played, voice);
        if (sheets is null)
            return (null, Because(unread!));

        SupplyLoad supply = SupplyLoad.Of(played);
        ImmutableArray<BoughtTracking> bought = BoughtTracking.Of(played, BudgetNotes(voice), sheets[0].Oscillator.Spec.VoltsPerOctave);
        Early?.Invoke(Judge.Proof(voice, sheets, trims, null, supply, bought, [], null));

        Tell("making builds, lengthening the chain, checking against the long way", 0.55);
        (SpreadResult? Result, AccuracyNote? Checked, SolveFailure? Failure) built = default;
        (ChainStudy? Study, SolveFailure? Failure) chain = default;
        ImmutableArray<AccuracyNote> accuracy = [];
        ParallelWork.Together(
            threads,
            cancel,
            () => built = MakeBuilds(played, sheets, progress, cancel),
            () => chain = voice.Ribbons.IsEmpty ? (null, null) : ChainLimit.Run(trimmed, threads, cancel),
            () => accuracy = new SelfCheck(played, sheets, threads).Run()
        );
        if ((built.Failure ?? chain.Failure) is { } failure)
            return (null, Because(failure));
        if (built.Checked is { } note)
            accuracy = accuracy.Add(note);

        Tell("judging", 0.99);
        return (Judge.Proof(voice, sheets, trims, chain.Study, supply, bought, accuracy, built.Result), null);
    }

    private (SpreadResult? Result, AccuracyNote? Checked, SolveFailure? Failure) MakeBuilds(
        PlayedVoice played,
        OscillatorSheet[] sheets,
        IProgress<(string Stage, double Done)>? progress,
        CancellationToken cancel
    )
    {
        if (Spread is null)
            return (null, null, null);
        (VoiceBuilds? builds, SolveFailure? failure) = Ready(played, sheets, Spread.Stock);
        if (builds is null)
            return (null, null, failure);
        Readied?.Invoke(builds);
        SpreadResult result = new SpreadStudy(builds, Spread).Run(threads, done => progress?.Report(("making builds", 0.7 + 0.15 * done)), cancel);
        progress?.Report(("solving builds again", 0.88));
        (AccuracyNote? note, failure) = new SpreadCheck(builds, SpreadStudy.Points(builds, Spread.Seed), threads).Run();
        return (result, note, failure);
    }

    // The build as the study made it, parts and trimmers, read as the design is read.
    private (Proof? Proof, Unproved? Failure) RunBuild(PlayedVoice played, Voice voice, long number, Action<string, double> tell)
    {
        tell("readying builds", 0.2);
        SpreadRequest request = Spread ?? new(Stock.Empty);
        DesignReadings readings = new(played, [BenchKelvin, voice.Limits.ColdKelvin, voice.Limits.WarmKelvin], Notes(voice));
        (VoiceBuilds? builds, SolveFailure? unready) = VoiceBuilds.Find(played, request.Stock, readings, threads);
        if (builds is null)
            return (null, Because(unready!));
        BuiltUnit unit = BuiltUnit.Make(builds, SpreadStudy.Points(builds, request.Seed), number);
        tell("reading the keyboard", 0.6);
        (OscillatorSheet[]? sheets, SolveFailure? unread) = ReadSheets(unit.Voice, voice);
        if (sheets is null)
            return (null, Because(unread!));
        tell("checking against the long way", 0.85);
        ImmutableArray<AccuracyNote> accuracy = [.. new SelfCheck(unit.Voice, sheets, threads).Run(), unit.Against(sheets)];
        ImmutableArray<BoughtTracking> bought = BoughtTracking.Of(unit.Voice, BudgetNotes(voice), sheets[0].Oscillator.Spec.VoltsPerOctave);
        Proof proof = Judge.Proof(voice, sheets, unit.Trims, null, SupplyLoad.Of(unit.Voice), bought, accuracy, null);
        return (proof with { Build = number }, null);
    }

    private (VoiceBuilds? Builds, SolveFailure? Failure) Ready(PlayedVoice played, OscillatorSheet[] sheets, Stock stock)
    {
        DesignReadings readings = new(played, sheets[0].Curves.Select(curve => curve.Kelvin), sheets[0].Curves[0].Points.Select(point => point.ControlVolts));
        for (int o = 0; o < sheets.Length; o++)
            foreach (TrackingCurve curve in sheets[o].Curves)
                readings.Take(o, curve);
        return VoiceBuilds.Find(played, stock, readings, threads);
    }

    private (OscillatorSheet[]? Sheets, SolveFailure? Failure) ReadSheets(PlayedVoice played, Voice voice)
    {
        double[] notes = Notes(voice);
        double[] kelvins = [BenchKelvin, voice.Limits.ColdKelvin, voice.Limits.WarmKelvin];
        double[] budgetNotes = BudgetNotes(voice);
        SheetReader[] readers = [.. played.Oscillators.Select(oscillator => new SheetReader(played.Twin(), oscillator))];
        SolveFailure?[] failures = new SolveFailure?[readers.Length];
        ParallelWork.Each(readers.Length, threads, i => failures[i] = readers[i].Read(notes, kelvins), played.Cancel);
        OscillatorSheet?[] sheets = new OscillatorSheet?[readers.Length];
        if (!failures.Any(failure => failure is not null))
        {
            Curves?.Invoke([.. kelvins.SelectMany((_, k) => readers.Select(reader => reader.Curves[k]))]);
            ParallelWork.Each(readers.Length, threads, i => (sheets[i], failures[i]) = readers[i].Split(budgetNotes), played.Cancel);
        }
        return failures.FirstOrDefault(failure => failure is not null) is { } first ? (null, first) : ([.. sheets.Select(sheet => sheet!)], null);
    }

    /// <summary>An octave apart over all that the keyboard plays, nine octaves at least.</summary>
    public static double[] Notes(Voice voice)
    {
        double octave = voice.VoltsPerOctave;
        Player? keyboard = voice.Players.FirstOrDefault(player => player.IsPitch);
        double low = keyboard?.Low ?? 0;
        double octaves = Math.Max(LeastOctaves, Math.Round(((keyboard?.High ?? 0) - low) / octave));
        return [.. Enumerable.Range(0, (int)octaves + 1).Select(i => low + i * octave)];
    }

    /// <summary>The octaves over which tracking is asked.</summary>
    public static double[] BudgetNotes(Voice voice)
    {
        double from = voice.Limits.LowestVoltage;
        double octave = voice.VoltsPerOctave;
        return [.. Enumerable.Range(0, (int)Math.Floor(voice.Limits.Octaves) + 1).Select(i => from + i * octave)];
    }

    /// <summary>A solver's failure in words.</summary>
    internal static Unproved Because(SolveFailure failure) =>
        new(failure.ToString(), "look at that net with 'consort solve' on the module's circuit, at rest and with --until");
}
