using Consort.Engine.Circuit.Motion;
using Consort.Engine.Pitch;

namespace Consort.Bench.Timings;

/// <summary>What an accepted step costs, how many make a cycle and how many passes make a step: every oscillator of every
/// example over the keyboard.</summary>
internal static class StepStudy
{
    private const int Cycles = 4;
    private const int Repeats = 3;
    private static readonly double[] Notes = [0, 3, 6, 9];

    private sealed record Cost(double Seconds, long Steps, long Thrown, long Passes);

    public static void Run(Page page)
    {
        page.Heading("Steps");
        page.Line($"One oscillator in its full circuit, as a proof reads it. Means over {Cycles} cycles after one that is not counted; fastest of {Repeats}.");
        page.Table(
            ["voice, oscillator", "unknowns", "note", "µs a step", "steps a cycle", "thrown away", "passes a step", "time a cycle"],
            Examples.Names.SelectMany(Rows)
        );
    }

    private static IEnumerable<IReadOnlyList<string>> Rows(string name)
    {
        PlayedVoice played = Examples.Play(name);
        foreach (Oscillator oscillator in played.Oscillators)
        {
            SoloOscillator solo = Examples.Solo(played, oscillator);
            foreach (double volts in Notes)
            {
                if (Enumerable.Range(0, Repeats).Select(_ => Measure(solo, volts)).MinBy(cost => cost?.Seconds ?? double.PositiveInfinity) is not { } cost)
                    yield return [$"{name}, {oscillator.Name}", $"{solo.Circuit.Length - 1}", $"{volts} V", "does not play", "", "", "", ""];
                else
                    yield return
                    [
                        $"{name}, {oscillator.Name}",
                        $"{solo.Circuit.Length - 1}",
                        $"{volts} V",
                        Figure.Digits(1e6 * cost.Seconds / cost.Steps),
                        $"{cost.Steps / Cycles}",
                        $"{cost.Thrown / Cycles}",
                        Figure.Digits(cost.Passes / (double)cost.Steps),
                        Figure.Time(cost.Seconds / Cycles),
                    ];
            }
        }
    }

    private static Cost? Measure(SoloOscillator solo, double volts)
    {
        if (solo.Start(volts).X is not { } x)
            return null;
        Transient run = solo.Run();
        run.Start(x);
        double longest = 30 / solo.Oscillator.IdealHertz(volts);
        if (!RunTo(run, 2, longest))
            return null;
        (long steps, long thrown, long passes) = (run.Steps, run.Rejected, run.Passes);
        Work work = Work.Begin();
        return RunTo(run, 2 + Cycles, longest)
            ? new(work.Seconds, run.Steps - steps, run.Rejected - thrown, run.Passes - passes)
            : null;
    }

    private static bool RunTo(Transient run, int crossings, double longest)
    {
        while (run.Crossings.Count < crossings)
            if (run.Time >= longest || run.Step(longest) is not null)
                return false;
        return true;
    }
}
