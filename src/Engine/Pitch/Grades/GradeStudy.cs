using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Pitch.Grades;

/// <summary>What is asked of grades.</summary>
/// <param name="Yield">Share of builds that must keep every limit, 0 to 1.</param>
/// <param name="Spend">A sum that graded parts may cost instead; null to look for the cheapest.</param>
/// <param name="Seed">Of the builds that choices are judged by; the finding is verified with the next one.</param>
/// <param name="Builds">Builds for each choice.</param>
public sealed record GradeRequest(double Yield, double? Spend = null, ulong Seed = 1, int Builds = 1024);

/// <summary>What came of it.</summary>
/// <param name="Currency">The shelf's.</param>
/// <param name="Places">Where there is a choice.</param>
/// <param name="Before">The grades that stand now, by place.</param>
/// <param name="After">Those that were found; null when none reach what is asked.</param>
/// <param name="CostBefore">Price of the graded parts of one voice now.</param>
/// <param name="CostAfter">The same with what was found.</param>
/// <param name="YieldBefore">What builds do now, from builds that nothing was chosen by.</param>
/// <param name="YieldAfter">What builds do with what was found, from the same.</param>
/// <param name="Weights">Share of what misses that each place brings now.</param>
/// <param name="Looked">Choices whose builds were made.</param>
/// <param name="IsExhaustive">True when the finding is the true optimum for the builds it was judged by.</param>
/// <param name="Checked">A sample of the found voice's builds solved again as whole circuits.</param>
public sealed record GradeFinding(
    string Currency,
    ImmutableArray<GradePlace> Places,
    ImmutableArray<int> Before,
    ImmutableArray<int>? After,
    double CostBefore,
    double CostAfter,
    YieldInterval YieldBefore,
    YieldInterval YieldAfter,
    ImmutableArray<GradeWeight> Weights,
    int Looked,
    bool IsExhaustive,
    AccuracyNote? Checked
);

/// <summary>Finds grades for a voice's parts, by trimmed builds.</summary>
/// <param name="threads">How many may work; the result does not depend on it.</param>
public sealed class GradeStudy(int threads)
{
    private const int Verified = 10_000;

    /// <summary>Runs.</summary>
    public (GradeFinding? Finding, Unproved? Failure) Run(
        Voice voice,
        Stock stock,
        GradeRequest request,
        IProgress<(string Stage, double Done)>? progress = null,
        CancellationToken cancel = default
    )
    {
        progress?.Report(("wiring up and trimming", 0));
        PlayedVoice played = PlayedVoice.Of(voice, cancel);
        if (played.Oscillators.IsEmpty)
            return (null, new("the voice has no oscillator with a circuit", "give at least one module a circuit and 'pitch'"));
        if (played.Prepare() is { } unready)
            return (null, Prover.Because(unready));
        (_, SolveFailure? untrimmed) = VoiceTrimming.Run(played, threads);
        if (untrimmed is not null)
            return (null, Prover.Because(untrimmed));
        progress?.Report(("reading the design", 0.05));
        (VoiceBuilds? builds, ImmutableArray<GradePlace> places, SolveFailure? failure) = Ready(played, stock);
        if (builds is null)
            return (null, Prover.Because(failure!));
        return Search(builds, places, stock, request, progress, cancel);
    }

    // Made ready with every graded part at its loosest: what then matters to nothing matters to no choice.
    private (VoiceBuilds? Builds, ImmutableArray<GradePlace> Places, SolveFailure? Failure) Ready(PlayedVoice played, Stock stock)
    {
        Voice voice = played.Voice;
        DrawPlan all = DrawPlanner.Plan(played.Circuit, stock);
        HashSet<string> drawn = [.. all.Parameters.Select(p => p.Part.Name)];
        ImmutableArray<GradePlace> offered = GradePlace.Of(voice, stock, drawn.Contains);
        Dictionary<(string, string), double> loosest = Widths(offered, [.. offered.Select(place => place.Grades.Length - 1)], loosest: true);
        DesignReadings readings = new(played, [Prover.BenchKelvin, voice.Limits.ColdKelvin, voice.Limits.WarmKelvin], Prover.Notes(voice));
        (VoiceBuilds? builds, SolveFailure? failure) = VoiceBuilds.Find(played, stock, readings, threads, plan => plan.WithWidths(loosest));
        if (builds is null)
            return (null, [], failure);
        HashSet<string> matter = [.. builds.Draws.Parameters.Select(p => p.Part.Name)];
        return (builds, [.. offered.Where(place => place.Pieces.Any(matter.Contains))], null);
    }

    private static Dictionary<(string Part, string Word), double> Widths(IReadOnlyList<GradePlace> places, IReadOnlyList<int> choice, bool loosest = false)
    {
        Dictionary<(string, string), double> widths = [];
        for (int i = 0; i < places.Count; i++)
            foreach (string piece in places[i].Pieces)
            {
                Grade grade = places[i].Grades[choice[i]];
                widths[(piece, "value")] = loosest ? places[i].Grades.Max(g => g.Tolerance) : grade.Tolerance;
                widths[(piece, "tempco")] = loosest ? places[i].Grades.Max(g => g.Drift) : grade.Drift;
            }
        return widths;
    }

    private (GradeFinding?, Unproved?) Search(
        VoiceBuilds builds,
        ImmutableArray<GradePlace> places,
        Stock stock,
        GradeRequest request,
        IProgress<(string Stage, double Done)>? progress,
        CancellationToken cancel
    )
    {
        int[] current = [.. places.Select(place => place.Current)];
        SpreadResult Make(int[] choice, int count, ulong seed) =>
            new SpreadStudy(builds.Graded(Widths(places, choice)), new(stock, count, seed)).Run(threads, null, cancel);
        ImmutableArray<GradeWeight> weights = Weigh(places, Make(current, Verified, request.Seed));
        int looked = 0;
        GradeSearch search = new(
            places,
            choice =>
            {
                progress?.Report(("trying grades", Math.Min(0.9, 0.2 + 0.003 * looked++)));
                return Make(choice, request.Builds, request.Seed).Yield;
            },
            weights
        );
        int[]? found = request.Spend is { } sum ? search.Best(sum) : search.Cheapest(request.Yield);
        progress?.Report(("verifying with other builds", 0.93));
        int[] after = found ?? current;
        YieldInterval before = Make(current, Verified, request.Seed + 1).Yield;
        YieldInterval now = Make(after, Verified, request.Seed + 1).Yield;
        VoiceBuilds chosen = builds.Graded(Widths(places, after));
        (AccuracyNote? note, SolveFailure? failure) = new SpreadCheck(chosen, SpreadStudy.Points(chosen, request.Seed + 1), threads).Run();
        if (failure is not null)
            return (null, Prover.Because(failure));
        return (
            new(
                stock.Currency,
                places,
                [.. current],
                found is null ? null : [.. found],
                search.Cost(current),
                search.Cost(after),
                before,
                now,
                weights,
                search.Looked,
                search.IsExhaustive,
                note
            ),
            null
        );
    }

    // What misses most now tells which variance counts.
    private static ImmutableArray<GradeWeight> Weigh(ImmutableArray<GradePlace> places, SpreadResult spread)
    {
        string key = spread.Figures.MinBy(figure => (figure.Kept.Share, -figure.Most / figure.Limit))!.Key;
        double Of(GradePlace place, string parameter) =>
            spread.Shares.Where(share => share.Parameter == parameter && place.Pieces.Contains(share.Part)).Sum(share => share.Of(key));
        return [.. places.Select(place => new GradeWeight(Of(place, "tolerance"), Of(place, "drift")))];
    }
}
