using Consort.Engine.Bench;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Fit;
using Consort.Tests.Invented;

namespace Consort.Bench.Estimates;

/// <summary>Blind trials of trimming: units whose parts nobody knows, by the fit and by the sheet.</summary>
internal static class TrimStudy
{
    private const ulong Seed = 5;
    private static readonly (string Example, string Module)[] Modules = [("quartet", "quartet-lead"), ("quartet", "quartet-follower"), ("pair", "pair-lead"), ("pair", "pair-follower")];
    private static readonly Unlikeness[] ByModel = [new(1, 0), new(2, 0), new(3, 0), new(1, 2), new(2, 4)];
    private static readonly Unlikeness[] ByCircuit = [new(1, 0), new(2, 0), new(1, 2)];

    /// <param name="page">Where it is written.</param>
    /// <param name="byModel">Units a row that are read by the model which the fit has too; 0: none.</param>
    /// <param name="byCircuit">Units a row that are read from full transients.</param>
    public static void Run(Page page, int byModel, int byCircuit)
    {
        page.Line("# Blind trials of trimming");
        page.Line();
        page.Line($"Made by `bench/run trimming {byModel} {byCircuit}`, seed {Seed}, 25 °C; nothing is timed. A unit's parts are drawn anew; readings of all");
        page.Line("octaves with 0.2 cent, a tuner of 0.3 cent, turns miscounted by 0.1. Trimmable: the sheet's procedure without any error reaches");
        page.Line("the limit in thirty rounds, by the model. Worst pitch error over the octaves that are asked. A trimmer that came to its stop is");
        page.Line("said to stand there.");
        if (byModel > 0)
            Rows(page, "Units read by the model that the fit has too", byModel, ByModel, isWhole: false);
        if (byCircuit > 0)
            Rows(page, "Units that are whole circuits, every reading a full transient", byCircuit, ByCircuit, isWhole: true);
    }

    private static void Rows(Page page, string heading, int units, Unlikeness[] unlike, bool isWhole)
    {
        page.Heading(heading);
        List<TrimTrials> all = [];
        foreach ((string example, string module) in Modules)
        {
            UnitModel model = Model(example, module);
            foreach (Unlikeness one in unlike)
            {
                all.Add(TrimTrials.Of(model, Seed, units, one, isWhole));
                Console.Error.WriteLine(TrimTrials.Table(all.TakeLast(1)).Split('\n')[2]);
            }
        }
        page.Line(TrimTrials.Table(all).TrimEnd());
    }

    private static UnitModel Model(string example, string module)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine("examples", example));
        UnitPlace place = UnitPlace.Find(voice!, $"{module}/0001", null).Place!;
        (UnitModel? model, SolveFailure? failure) = UnitModel.Find(voice!, stock!, place, [298.15], 1);
        return model ?? throw new InvalidOperationException(failure!.ToString());
    }
}
