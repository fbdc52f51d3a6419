using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Expected;

/// <summary>Simulated builds of a circuit by number, every part drawn within its limits; a build is the same however many are drawn.</summary>
internal sealed class DrawnBuilds
{
    private readonly DrawPlan plan;
    private readonly double[] departures; // parameter by parameter, build by build

    /// <summary>Draws them.</summary>
    public DrawnBuilds(Circuit.Circuit circuit, Stock stock, int count, ulong seed)
    {
        (plan, Count) = (DrawPlanner.Plan(circuit, stock), count);
        departures = new double[plan.Parameters.Length * count];
        plan.Departures(new RandomPoints(seed), 0, count, departures);
    }

    /// <summary>How many there are.</summary>
    public int Count { get; }

    /// <summary>Gives a circuit the parts of a build.</summary>
    public void Set(Circuit.Circuit circuit, int build) => Set(circuit, p => plan.Parameters[p].Value(departures[(p * Count) + build]));

    /// <summary>Gives it the design's own again.</summary>
    public void Reset(Circuit.Circuit circuit) => Set(circuit, p => plan.Parameters[p].Nominal);

    private void Set(Circuit.Circuit circuit, Func<int, double> value)
    {
        for (int p = 0; p < plan.Parameters.Length; p++)
            circuit[plan.Parameters[p].Part.Name, plan.Parameters[p].Word] = value(p);
    }
}
