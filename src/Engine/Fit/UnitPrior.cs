using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Fit;

/// <summary>
/// What is known of a unit's parts before it is read, as independent normal numbers of variance one: each departure is a sum
/// of them. Means and variances are those of the draws, correlation within a reel included; shapes (uniform, cut, measured)
/// are not: a pitch sums many of them.
/// </summary>
internal sealed class UnitPrior
{
    private UnitPrior(int[] latents, (int Parameter, double Weight)[][] weights, string[] names) => (Latents, Weights, Names) = (latents, weights, names);

    /// <summary>The variates behind the numbers.</summary>
    public int[] Latents { get; }

    /// <summary>By number: the departures that it moves, and by how much.</summary>
    public (int Parameter, double Weight)[][] Weights { get; }

    /// <summary>What each stands for.</summary>
    public string[] Names { get; }

    /// <summary>Of one member's parts.</summary>
    public static UnitPrior Of(VoiceBuilds builds, string member)
    {
        DrawPlan draws = builds.Draws;
        Dictionary<int, List<(int, double)>> moved = [];
        for (int p = 0; p < draws.Parameters.Length; p++)
            if (draws.Parameters[p].Part.Name.StartsWith($"{member}/", StringComparison.Ordinal))
                foreach (DrawTerm term in draws.Parameters[p].Terms)
                    Spread(draws, p, term, moved);
        int[] latents = [.. moved.Keys.Order()];
        return new(latents, [.. latents.Select(v => moved[v].ToArray())], [.. latents.Select(v => draws.Variates[v].Name)]);
    }

    private static void Spread(DrawPlan draws, int parameter, DrawTerm term, Dictionary<int, List<(int, double)>> moved)
    {
        Variate variate = draws.Variates[term.Variate];
        double deviation = term.HalfWidth * Math.Sqrt(variate.Shape.Variance);
        Add(term.Variate, deviation * Math.Sqrt(1 - variate.Alike));
        if (variate.Reel >= 0)
            Add(variate.Reel, deviation * Math.Sqrt(variate.Alike));

        void Add(int latent, double weight)
        {
            if (!moved.TryGetValue(latent, out List<(int, double)>? all))
                moved[latent] = all = [];
            all.Add((parameter, weight));
        }
    }
}
