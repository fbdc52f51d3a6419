using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Response;

/// <summary>Reads how oscillators answer to what moves them: first what each control and jack moves at all, then every
/// sheet that this calls for.</summary>
public sealed class ResponseStudy
{
    private readonly PlayedVoice ready;
    private readonly ResponsePlan plan;
    private readonly int threads;
    private readonly IProgress<(string Stage, double Done)>? progress;
    private readonly CancellationToken cancel;

    private ResponseStudy(PlayedVoice ready, ResponsePlan plan, int threads, IProgress<(string, double)>? progress, CancellationToken cancel) =>
        (this.ready, this.plan, this.threads, this.progress, this.cancel) = (ready, plan, threads, progress, cancel);

    /// <summary>Makes the voice ready and reads its sheets.</summary>
    /// <param name="trims">False leaves all trimmers as they stand.</param>
    /// <param name="kelvin">Temperature of all parts.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="progress">Told the stage and the share that is done.</param>
    /// <param name="cancel">Looked at between readings.</param>
    public static (ResponseBook? Book, SolveFailure? Failure) Run(
        ResponsePlan plan,
        bool trims,
        double kelvin,
        int threads,
        IProgress<(string Stage, double Done)>? progress = null,
        CancellationToken cancel = default
    )
    {
        progress?.Report(("trimming", 0));
        (PlayedVoice? ready, SolveFailure? failure) = ReadyVoice.Of(plan.Written, plan.Moved, trims, kelvin, threads);
        return ready is null ? (null, failure) : Of(ready, plan, threads, progress, cancel);
    }

    /// <summary>Reads the sheets of a voice that is ready.</summary>
    internal static (ResponseBook? Book, SolveFailure? Failure) Of(
        PlayedVoice ready,
        ResponsePlan plan,
        int threads,
        IProgress<(string Stage, double Done)>? progress = null,
        CancellationToken cancel = default
    ) => new ResponseStudy(ready, plan, threads, progress, cancel).Read();

    private (ResponseBook?, SolveFailure?) Read()
    {
        (ImmutableArray<KnownOscillator> still, SolveFailure? unread) = Starts();
        if (unread is not null)
            return (null, unread);
        (ImmutableArray<DriveEffect> effects, SolveFailure? unmoved) = Effects(still);
        if (unmoved is not null)
            return (null, unmoved);
        KnownOscillator[] known = [.. still.Select(one => one with { Effects = [.. one.Drives.Select(drive => effects.First(effect => ReferenceEquals(effect.Drive, drive)))] })];
        (ILookup<string, WidthSheet> widths, SolveFailure? first) = Widths(known);
        (ILookup<string, FrequencySheet> frequencies, SolveFailure? second) = Frequencies(known);
        (ILookup<string, SyncStudy.Outcome> syncs, SolveFailure? fifth) = Syncs(known);
        (ILookup<string, WaveSheets> waves, SolveFailure? third) = Waves(known);
        (ILookup<string, LevelSheet> levels, SolveFailure? fourth) = Levels(known);
        if ((first ?? second ?? fifth ?? third ?? fourth) is { } failure)
            return (null, failure);
        OscillatorResponse Response(KnownOscillator one)
        {
            SyncSheet[] synced = [.. SyncStudy.Choose([.. syncs[one.Name]])];
            return new(one.Name, one.Member.Module.Name, one.Hertz, one.Outputs, one.Effects)
            {
                Widths = [.. widths[one.Name]],
                Frequencies = [.. frequencies[one.Name]],
                Syncs = [.. synced],
                Waves = [.. waves[one.Name].SelectMany(sheets => sheets.All)],
                Levels = [.. levels[one.Name]],
                Absent = [.. one.Absent(plan.Kinds, syncs[one.Name].Any(), synced.Length > 0)],
            };
        }

        return (new(ready.Voice.Name, ready.Circuit.Temperature, plan.Play, plan.Swing, plan.Modulator, [.. known.Select(Response)]), null);
    }

    private (ImmutableArray<KnownOscillator>, SolveFailure?) Starts() =>
        All(Each("reading outputs", 0.1, 0.15, plan.Oscillators, name =>
        {
            Member member = ready.Voice.Members.First(member => member.Name == name);
            ImmutableArray<string> outputs = Channel.Outputs(member.Module);
            (DrivenOscillator? driven, SolveFailure? failure) = DrivenOscillator.Of(ready, name, null, outputs, plan.Play);
            if (driven is null)
                return (null, failure);
            (SteadyPeriod? period, SolveFailure? broken) = driven.Read();
            if (period is null || !double.IsFinite(period.Hertz))
                return ((KnownOscillator?)null, broken ?? new SolveFailure("it does not oscillate", name, 0, 0));
            return (new(member, period.Hertz, outputs, PulseOutput.Among(outputs, period), Drive.Of(ready.Voice, name, plan.Swing)), null);
        }));

    private (ImmutableArray<DriveEffect>, SolveFailure?) Effects(ImmutableArray<KnownOscillator> oscillators)
    {
        (KnownOscillator One, Drive Drive)[] work = [.. oscillators.SelectMany(one => one.Drives.Select(drive => (one, drive)))];
        return All(Each("moving controls", 0.15, 0.3, work, item =>
        {
            (DrivenOscillator? driven, SolveFailure? failure) = DrivenOscillator.Of(ready, item.One.Name, item.Drive, [.. item.One.Pulses.Select(pulse => pulse.Label)], plan.Play);
            return driven is null ? (null, failure) : DriveEffect.Read(driven, item.Drive, item.One.Pulses);
        }));
    }

    private (ILookup<string, WidthSheet>, SolveFailure?) Widths(KnownOscillator[] known) =>
        Sheets(SheetKind.Width, "pulse width", 0.3, 0.5, known, one => one.Widths, (one, item) =>
        {
            (DrivenOscillator? driven, SolveFailure? failure) = DrivenOscillator.Of(ready, one.Name, item.Drive, [item.Pulse.Label], plan.Play);
            return driven is null ? (null, failure) : new WidthReader(driven, item.Drive, item.Pulse.Low, item.Pulse.High, Kelvins).Read(item.Pulse.Label);
        });

    private (ILookup<string, FrequencySheet>, SolveFailure?) Frequencies(KnownOscillator[] known) =>
        Sheets(SheetKind.Frequency, "frequency", 0.5, 0.65, known, one => one.Frequencies, (one, drive) =>
        {
            (DrivenOscillator? driven, SolveFailure? failure) = DrivenOscillator.Of(ready, one.Name, drive, [], plan.Play);
            return driven is null ? (null, failure) : new FrequencyReader(driven, drive, plan.Modulator, Kelvins, peak => Moving(one, drive, peak)).Read();
        });

    private (double, double, SolveFailure?) Moving(KnownOscillator one, Drive drive, double peak)
    {
        (PlayedVoice? voice, SolveFailure? failure) = DrivenOscillator.Wired(ready, drive, Surroundings.Of(ready.Voice, one.Name));
        if (voice is null)
            return (double.NaN, double.NaN, failure);
        return MeanFrequency.Count(voice, voice.Oscillators.First(other => other.Name == one.Name), plan.Play, peak, plan.Modulator, one.Hertz);
    }

    private (ILookup<string, SyncStudy.Outcome>, SolveFailure?) Syncs(KnownOscillator[] known) =>
        Sheets(SheetKind.Sync, "sync", 0.65, 0.8, known, one => new SyncStudy(ready, one, plan.Play).Trials, (one, trial) => new SyncStudy(ready, one, plan.Play).Try(trial));

    private sealed record WaveSheets(ImmutableArray<WaveSheet> All);

    private (ILookup<string, WaveSheets>, SolveFailure?) Waves(KnownOscillator[] known) =>
        Sheets<ImmutableArray<string>, WaveSheets>(SheetKind.Waves, "wave shapes", 0.8, 0.9, known, one => one.Waves.IsEmpty ? [] : [one.Waves], (one, outputs) =>
        {
            (DrivenOscillator? driven, SolveFailure? failure) = DrivenOscillator.Of(ready, one.Name, null, outputs, plan.Play);
            if (driven is null)
                return (null, failure);
            (ImmutableArray<WaveSheet> sheets, SolveFailure? broken) = new WaveShapes(driven, one.Member, outputs, Kelvins).Read();
            return broken is null ? (new WaveSheets(sheets), null) : (null, broken);
        });

    private (ILookup<string, LevelSheet>, SolveFailure?) Levels(KnownOscillator[] known) =>
        Sheets(SheetKind.Levels, "levels", 0.9, 1, known, one => one.Outputs, (one, output) => LevelSheet.Read(ready, one.Name, output, plan.Play, Kelvins));

    private ImmutableArray<double> Kelvins => [ready.Circuit.Temperature, .. plan.Kelvins.Where(kelvin => kelvin != ready.Circuit.Temperature)];

    // The sheets of a kind, by oscillator; none when the kind is not asked for.
    private (ILookup<string, T>, SolveFailure?) Sheets<TItem, T>(
        SheetKind kind,
        string stage,
        double from,
        double to,
        KnownOscillator[] known,
        Func<KnownOscillator, IEnumerable<TItem>> items,
        Func<KnownOscillator, TItem, (T?, SolveFailure?)> read
    )
        where T : class
    {
        (KnownOscillator One, TItem Item)[] work = plan.Kinds.Contains(kind) ? [.. known.SelectMany(one => items(one).Select(item => (one, item)))] : [];
        (ImmutableArray<T> sheets, SolveFailure? failure) = All(Each(stage, from, to, work, piece => read(piece.One, piece.Item)));
        return (sheets.Select((sheet, i) => (work[i].One.Name, sheet)).ToLookup(pair => pair.Name, pair => pair.sheet), failure);
    }

    private (T?, SolveFailure?)[] Each<TItem, T>(string stage, double from, double to, IReadOnlyList<TItem> items, Func<TItem, (T?, SolveFailure?)> read)
        where T : class
    {
        (T?, SolveFailure?)[] answers = new (T?, SolveFailure?)[items.Count];
        int done = 0;
        progress?.Report((stage, from));
        ParallelWork.Each(items.Count, threads, i =>
        {
            answers[i] = read(items[i]);
            progress?.Report((stage, from + (to - from) * Interlocked.Increment(ref done) / items.Count));
        }, cancel);
        return answers;
    }

    private static (ImmutableArray<T>, SolveFailure?) All<T>((T? Answer, SolveFailure? Failure)[] answers)
        where T : class =>
        answers.FirstOrDefault(answer => answer.Answer is null).Failure is { } failure ? ([], failure) : ([.. answers.Select(answer => answer.Answer!)], null);
}
