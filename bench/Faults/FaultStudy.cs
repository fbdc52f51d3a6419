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

    public static void Run(Page page, int faults, int sound, ulong seed)
    {
        page.Line("# How often is the true fault found?");
        page.Line();
        page.Line($"Made by `bench/run faults {faults} {sound} {seed}`: {Modules.Length * faults} blind faults that the readings can show, {Modules.Length * sound} sound units. Each unit's parts");
        page.Line("are drawn anew within their limits (knobs within 1 % of their travel, trimmers within 5 %), one fault of the module's book is put in, drawn");
        page.Line("evenly; its circuit is solved and read with a meter's errors (means 0.5 % and 5 mV, lowest and highest 3 % and 50 mV, currents 1 % and");
        page.Line("0.2 mA, pitch 1 cent, standard deviations) at the test places of the building guide, at three notes. Nothing is timed.");
        page.Line();
        page.Line("Two figures a cell: the very fault, and it or one that these readings cannot tell from it (foretold less than two deviations apart, so");
        page.Line("that one in six would be taken for the other). *After three more*: once the three figures were read that were asked for.");
        page.Line();
        page.Line(FaultTrials.Head);
        List<FaultTrials> all = [.. Modules.Select(module => One(page, module, faults, sound, seed))];
        page.Heading("What is taken for what");
        page.Line("Faults that did not come first, by kind; over all modules.");
        FaultKind[] kinds = Enum.GetValues<FaultKind>();
        page.Table(["true \\ first", .. kinds.Select(Word), "none claimed"], kinds.Select(kind => (IReadOnlyList<string>)[Word(kind), .. kinds.Select(taken => Count(all.Sum(one => one.Confused.GetValueOrDefault((kind, taken))))), Count(all.Sum(one => one.MissedKinds.GetValueOrDefault(kind)))]));
        page.Heading("One by one");
        foreach ((FaultTrials one, (_, string module)) in all.Zip(Modules))
            foreach (IGrouping<string, string> note in one.Notes.GroupBy(note => note).OrderByDescending(group => group.Count()).ThenBy(group => group.Key, StringComparer.Ordinal))
                page.Line($"- {module}: {note.Key}{(note.Count() > 1 ? $" (×{note.Count()})" : "")}");
    }

    private static FaultTrials One(Page page, (string Example, string Module) what, int faults, int sound, ulong seed)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine("examples", what.Example));
        Member member = voice!.Members.First(one => UnitPlace.ModuleOf(one) == what.Module);
        FaultTrials trials = new(FaultBook.Write(voice, member, stock!, 1) ?? throw new InvalidOperationException($"{what.Module}: no answer"), member.Module);
        trials.Run(faults, sound, seed);
        page.Line(trials.Row(what.Module));
        return trials;
    }

    private static string Word(FaultKind kind) => kind.ToString().ToLowerInvariant();

    private static string Count(int count) => count == 0 ? "" : count.ToString(CultureInfo.InvariantCulture);
}
