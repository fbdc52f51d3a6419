using System.Globalization;
using Consort.Engine.Bench;
using Consort.Engine.Design;
using Consort.Engine.Faults;
using Consort.Tests.Invented;

namespace Consort.Bench.Faults;

/// <summary>Blind trials of fault finding on the modules of both examples that are asked: how often the true cause comes first, and what
/// is taken for what.</summary>
internal static class FaultStudy
{
    private static readonly (string Example, string Module)[] Modules = [("pair", "pair-lead"), ("pair", "pair-follower"), ("quartet", "quartet-lead"), ("quartet", "quartet-follower")];
    private static readonly double[] Sure = [0, 0.5, 0.9, 0.99];

    /// <param name="page">Where it is written.</param>
    /// <param name="faults">Faults that show, a module.</param>
    /// <param name="sound">Sound units, a module.</param>
    /// <param name="seed">Of all that is drawn.</param>
    /// <param name="only">These modules; none: all.</param>
    public static void Run(Page page, int faults, int sound, ulong seed, string[] only)
    {
        (string Example, string Module)[] modules = [.. Modules.Where(module => only.Length == 0 || only.Contains(module.Module))];
        page.Line("# How often is the true fault found?");
        page.Line();
        page.Line($"Made by `bench/run faults {string.Join(' ', [$"{faults}", $"{sound}", $"{seed}", .. only])}`: {modules.Length * faults} blind faults that the readings can show, {modules.Length * sound} sound units. Each unit's parts are drawn anew");
        page.Line("within their limits (knobs within 1 % of their travel, trimmers within 5 %); one fault, drawn evenly from the module's book, is put in;");
        page.Line("its circuit is solved and read with a meter's errors (means 0.5 % and 5 mV, lowest and highest 3 % and 50 mV, currents 1 % and 0.2 mA,");
        page.Line("pitch 1 cent; standard deviations) at the test places of the building guide and at three notes. Nothing is timed.");
        page.Line();
        page.Line("Two figures a cell: the very fault, and it or one that these readings cannot tell from it (foretold less than two deviations apart, so");
        page.Line("that one in six would be taken for the other). *More*: figures that were asked for. A fault *shows* when it lies four deviations of all");
        page.Line("readings together from sound units.");
        (string Module, FaultTrials Trials)[] all = [.. modules.Select(module => (module.Module, One(module, faults, sound, seed)))];
        page.Table(FaultTallies.Columns, all.Select(one => FaultTallies.Row(one.Module, one.Trials)));
        Hidden(page, all);
        page.Heading("From a few readings on");
        page.Line("The same units; at first only pitch, currents and output jacks are read, then three figures more each time, at any net, as asked for.");
        page.Table(FaultTallies.GrowingColumns, all.Select(one => FaultTallies.Growing(one.Module, one.Trials)));
        Weights(page, [.. all.SelectMany(one => one.Trials.Seen)]);
        Confusions(page, [.. all.SelectMany(one => one.Trials.Seen)]);
        page.Heading("One by one");
        foreach ((string module, FaultTrials trials) in all)
            foreach (IGrouping<string, string> note in trials.Seen.Where(one => one.Full[0].Own != 1).Select(Note).Concat(trials.SoundClaimed).GroupBy(note => note).OrderBy(group => group.Key, StringComparer.Ordinal))
                page.Line($"- {module}: {note.Key}{(note.Count() > 1 ? $" (×{note.Count()})" : "")}");
    }

    private static FaultTrials One((string Example, string Module) what, int faults, int sound, ulong seed)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine("examples", what.Example));
        Member member = voice!.Members.First(one => UnitPlace.ModuleOf(one) == what.Module);
        FaultTrials trials = new(FaultBook.Write(voice, member, stock!, 1) ?? throw new InvalidOperationException($"{what.Module}: no answer"), member.Module);
        trials.Run(faults, sound, seed);
        Console.Error.WriteLine($"{what.Module}: {string.Join(" | ", FaultTallies.Row(what.Module, trials))}");
        return trials;
    }

    private static void Hidden(Page page, (string Module, FaultTrials Trials)[] all)
    {
        FaultTrial[] hidden = [.. all.SelectMany(one => one.Trials.Trials).Where(trial => !trial.Shows)];
        int drawn = all.Sum(one => one.Trials.Trials.Count);
        page.Line(string.Create(CultureInfo.InvariantCulture, $"For these, {drawn} faults were drawn: {hidden.Length} do not show (parts of jacks and knobs that are not in use, capacitors across supplies, values next to the"));
        page.Line(string.Create(CultureInfo.InvariantCulture, $"right one that the spread hides). Of them {hidden.Count(trial => trial.Full[0].Own == 1)} were found all the same, {hidden.Count(trial => trial.Taken is null)} led to no claim, and {hidden.Count(trial => trial.Taken is not null && trial.Full[0].Own != 1)} to another fault's. Counted among all that were drawn, the"));
        FaultRank[] ranks = [.. all.SelectMany(one => one.Trials.Trials).Select(trial => trial.Full[0])];
        page.Line($"true fault comes first in {FaultTallies.Both(ranks, 1)}, among three in {FaultTallies.Both(ranks, 3)}.");
    }

    private static void Weights(Page page, FaultTrial[] seen)
    {
        page.Heading("How far can the likelihood be trusted?");
        page.Table(["the first is given at least", "trials", "true first, or alike"], Sure.Select(sure =>
        {
            FaultRank[] ranks = [.. seen.Where(one => one.Taken is not null && one.Full[0].Weight >= sure).Select(one => one.Full[0])];
            return (string[])[string.Create(CultureInfo.InvariantCulture, $"{100 * sure:0} %"), ranks.Length.ToString(CultureInfo.InvariantCulture), FaultTallies.Both(ranks, 1)];
        }));
    }

    private static void Confusions(Page page, FaultTrial[] seen)
    {
        page.Heading("What is taken for what");
        page.Line("True faults by kind, down; what came first, across. On the diagonal the right kind, and in brackets how many of them were the very fault.");
        FaultKind[] kinds = Enum.GetValues<FaultKind>();
        page.Table(["", .. kinds.Select(Word), "none"], kinds.Select(kind => (string[])[Word(kind), .. kinds.Select(taken => Cell(seen, kind, taken)), Count(seen.Count(one => one.Fault.Fault.Kind == kind && one.Taken is null))]));
    }

    private static string Cell(FaultTrial[] seen, FaultKind kind, FaultKind taken)
    {
        FaultTrial[] these = [.. seen.Where(one => one.Fault.Fault.Kind == kind && one.Taken?.Kind == taken)];
        return kind == taken && these.Length > 0 ? $"{these.Length} ({these.Count(one => one.Full[0].Own == 1)})" : Count(these.Length);
    }

    private static string Note(FaultTrial trial) =>
        trial.Taken is null
            ? $"{trial.Fault.Fault.Words}: no fault claimed"
            : string.Create(CultureInfo.InvariantCulture, $"{trial.Fault.Fault.Words}: stands {Place(trial.Full[0].Own)}{(trial.Full[0].Alike == 1 ? ", alike" : "")}; first is {trial.Taken.Words} ({trial.Full[0].Weight:0.00})");

    private static string Place(int rank) => rank == 0 ? "nowhere" : rank.ToString(CultureInfo.InvariantCulture);

    private static string Word(FaultKind kind) => kind.ToString().ToLowerInvariant();

    private static string Count(int count) => count == 0 ? "" : count.ToString(CultureInfo.InvariantCulture);
}
