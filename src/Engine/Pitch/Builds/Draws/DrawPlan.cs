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

    /// <summary>Departures of neighbouring builds, parameter by parameter: entry p·builds + b.</summary>
    /// <param name="points">Where their numbers come from.</param>
    /// <param name="first">The first build, from 0.</param>
    /// <param name="builds">How many.</param>
    /// <param name="into">Room for all parameters times builds.</param>
    public void Departures(UnitPoints points, long first, int builds, Span<double> into)
    {
        double[] cube = new double[Variates.Length * builds];
        points.Fill(first, builds, cube);
        double[] units = new double[cube.Length];
        for (int v = 0; v < Variates.Length; v++)
            for (int b = 0; b < builds; b++)
                units[v * builds + b] = UnitOf(Variates[v], v, cube, b, builds);
        into.Clear();
        for (int p = 0; p < Parameters.Length; p++)
            foreach (DrawTerm term in Parameters[p].Terms)
                for (int b = 0; b < builds; b++)
                    into[p * builds + b] += term.HalfWidth * units[term.Variate * builds + b];
    }

    private double UnitOf(Variate variate, int number, double[] cube, int b, int builds)
    {
        double own = cube[dimensions[number] * builds + b];
        if (variate.Reel < 0)
            return variate.Shape.At(own);
        double reel = cube[dimensions[variate.Reel] * builds + b];
        double score = Math.Sqrt(variate.Alike) * NormalLaw.Quantile(reel) + Math.Sqrt(1 - variate.Alike) * NormalLaw.Quantile(own);
        return variate.Shape.At(NormalLaw.Below(score));
    }
}
