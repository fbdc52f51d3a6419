using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Live;

/// <summary>A voice whose laws are known, as the ground that edits of it stand on. One thread at a time.</summary>
internal sealed class ReadBase
{
    // What one half-width of a parameter that the laws leave out may do, cents (PathReach, CoreSurvey); an edit is many of them.
    private const double LeftOut = 1e-3;
    private const double MostLeftOut = 0.05; // cents

    private readonly VoiceBuilds builds;
    private readonly VoiceShape shape;
    private readonly HashSet<int> needed;

    /// <summary>For a voice whose laws were read.</summary>
    /// <param name="voice">As its files had it.</param>
    /// <param name="builds">Its laws.</param>
    /// <param name="threads">How many benches.</param>
    public ReadBase(Voice voice, VoiceBuilds builds, int threads)
    {
        this.builds = builds;
        shape = new(PlayedVoice.Of(voice), builds.AllDraws);
        needed = [.. builds.Paths.Plans.SelectMany(plan => plan.Reach.Parameters), .. builds.Laws.SelectMany(law => law.Parameters)];
        Benches = [.. Enumerable.Range(0, threads).Select(_ => new BuildBench<Four>(builds))];
    }

    /// <summary>Benches that make builds of the voice and of the edit that was asked for last, one for each thread.</summary>
    public BuildBench<Four>[] Benches { get; }

    /// <summary>True when another takes its place: one of the same shape.</summary>
    public bool IsLike(ReadBase other) => shape.IsOf(other.shape.Known);

    /// <summary>The voice after an edit, by the laws of this one; null where the edit is more than they tell: other parts, other
    /// wiring, a value that no build varies. The benches serve it from then on.</summary>
    public (VoiceBuilds Builds, double Doubt)? Edit(PlayedVoice edited, Stock stock)
    {
        if (!shape.IsOf(edited) || builds.AllDraws.About(DrawPlanner.Plan(edited.Circuit, stock)) is not { } draws)
            return null;
        double doubt = Doubt(draws);
        if (doubt > MostLeftOut)
            return null;
        VoiceBuilds after = builds.Edited(edited, draws);
        foreach (BuildBench<Four> bench in Benches)
            bench.Serve(after);
        return (after, doubt);
    }

    // What the laws leave out is small for one half-width, and an edit may be many.
    private double Doubt(DrawPlan draws)
    {
        double doubt = 0;
        for (int p = 0; p < draws.Parameters.Length; p++)
            if (draws.Parameters[p].Offset != 0 && !needed.Contains(p))
                doubt += LeftOut * Math.Abs(draws.Parameters[p].Offset) / builds.AllDraws.Parameters[p].Terms.Sum(term => Math.Abs(term.HalfWidth));
        return doubt;
    }
}
