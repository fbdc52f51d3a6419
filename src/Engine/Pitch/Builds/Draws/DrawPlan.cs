using System.Collections.Immutable;

namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>
/// Everything that differs between the builds of a circuit. Pieces off one reel are correlated through normal scores: z =
/// √ρ·z(reel) + √(1 − ρ)·z(own), so that each keeps its own distribution.
/// </summary>
public sealed class DrawPlan
{
    private readonly int[] dimensions; // of the unit cube, by variate

    internal DrawPlan(ImmutableArray<Variate> variates, ImmutableArray<DrawnParameter> parameters)
        : this(variates, parameters, [.. Enumerable.Range(0, variates.Length)]) { }

    private DrawPlan(ImmutableArray<Variate> variates, ImmutableArray<DrawnParameter> parameters, int[] dimensions) =>
        (Variates, Parameters, this.dimensions) = (variates, parameters, dimensions);

    /// <summary>What varies by itself.</summary>
    public ImmutableArray<Variate> Variates { get; }

    /// <summary>The parameters that follow from it.</summary>
    public ImmutableArray<DrawnParameter> Parameters { get; }

    /// <summary>The same plan with its variates given to the cube's dimensions by weight, the heaviest first: quasi-random
    /// points are evenest in their first dimensions.</summary>
    /// <param name="weights">How much one half-width of each parameter matters, in any unit.</param>
    public DrawPlan Ranked(ReadOnlySpan<double> weights)
    {
        double[] heaviest = new double[Variates.Length];
        for (int p = 0; p < Parameters.Length; p++)
            foreach (DrawTerm term in Parameters[p].Terms)
            {
                heaviest[term.Variate] = Math.Max(heaviest[term.Variate], Math.Abs(weights[p] * term.HalfWidth));
                if (Variates[term.Variate].Reel is >= 0 and int reel)
                    heaviest[reel] = Math.Max(heaviest[reel], heaviest[term.Variate]);
            }
        int[] ranked = new int[dimensions.Length];
        int next = 0;
        foreach (int variate in Enumerable.Range(0, ranked.Length).OrderByDescending(v => heaviest[v]).ThenBy(v => v))
            ranked[variate] = next++;
        return new(Variates, Parameters, ranked);
    }

    /// <summary>The same plan with other limits.</summary>
    /// <param name="widths">Half-width by part and word, in the unit of the plan's terms; what is not named keeps its own.</param>
    public DrawPlan WithWidths(IReadOnlyDictionary<(string Part, string Word), double> widths) =>
        new(
            Variates,
            [
                .. Parameters.Select(p =>
                    p.Terms.Length == 1 && widths.TryGetValue((p.Part.Name, p.Word), out double width)
                        ? p with { Terms = [p.Terms[0] with { HalfWidth = width }] }
                        : p
                ),
            ],
            dimensions
        );

    /// <summary>This plan's parameters about the values, and within the limits, that they have in the plan of a design changed
    /// since; null where the change is more than that: another parameter varies, or one in another way.</summary>
    /// <param name="edited">The plan of the changed design.</param>
    public DrawPlan? About(DrawPlan edited)
    {
        Dictionary<(string, string), DrawnParameter> others = edited.Parameters.ToDictionary(p => (p.Part.Name, p.Word));
        if (others.Count != Parameters.Length || Parameters.Any(p => !others.TryGetValue((p.Part.Name, p.Word), out DrawnParameter? other) || other.Move != p.Move))
            return null;
        // What is new (a part that left its reel) is drawn past all that was there.
        Dictionary<string, int> before = [];
        for (int v = 0; v < Variates.Length; v++)
            before[Variates[v].Name] = dimensions[v];
        foreach (Variate variate in edited.Variates)
            before.TryAdd(variate.Name, before.Count);
        return new(
            edited.Variates,
            [.. Parameters.Select(p => p.About(others[(p.Part.Name, p.Word)]))],
            [.. edited.Variates.Select(variate => before[variate.Name])]
        );
    }

    /// <summary>The part of the plan that some parameters need; their departures are those of the whole plan.</summary>
    /// <param name="parameters">Places in <see cref="Parameters"/>.</param>
    public DrawPlan Of(IReadOnlyList<int> parameters)
    {
        Dictionary<int, int> kept = [];
        foreach (DrawTerm term in parameters.SelectMany(p => Parameters[p].Terms))
            foreach (int variate in (int[])[Variates[term.Variate].Reel, term.Variate])
                if (variate >= 0)
                    kept.TryAdd(variate, kept.Count);
        return new(
            [.. kept.Keys.Select(v => Variates[v] with { Reel = Variates[v].Reel < 0 ? -1 : kept[Variates[v].Reel] })],
            [.. parameters.Select(p => Parameters[p] with { Terms = [.. Parameters[p].Terms.Select(term => term with { Variate = kept[term.Variate] })] })],
            [.. kept.Keys.Select(v => dimensions[v])]
        );
    }

    /// <summary>Departures of neighbouring builds, parameter by parameter: entry p·builds + b.</summary>
    /// <param name="points">Where their numbers come from.</param>
    /// <param name="first">The first build, from 0.</param>
    /// <param name="builds">How many.</param>
    /// <param name="into">Room for all parameters times builds.</param>
    public void Departures(UnitPoints points, long first, int builds, Span<double> into)
    {
        double[] units = new double[Variates.Length * builds];
        for (int v = 0; v < Variates.Length; v++)
            Draw(points, v, first, units.AsSpan(v * builds, builds), units);
        for (int p = 0; p < Parameters.Length; p++)
        {
            into.Slice(p * builds, builds).Fill(Parameters[p].Offset);
            foreach (DrawTerm term in Parameters[p].Terms)
                for (int b = 0; b < builds; b++)
                    into[p * builds + b] += term.HalfWidth * units[term.Variate * builds + b];
        }
    }

    // A reel stands before its pieces and is kept as it is: a number between 0 and 1.
    private void Draw(UnitPoints points, int number, long first, Span<double> into, double[] units)
    {
        points.Fill(dimensions[number], first, into);
        Variate variate = Variates[number];
        if (variate.Shape is SpreadShape.Reel)
            return;
        for (int b = 0; variate.Reel >= 0 && b < into.Length; b++)
        {
            double reel = NormalLaw.Quantile(units[variate.Reel * into.Length + b]);
            into[b] = NormalLaw.Below(Math.Sqrt(variate.Alike) * reel + Math.Sqrt(1 - variate.Alike) * NormalLaw.Quantile(into[b]));
        }
        variate.Shape.Place(into);
    }
}
