using Consort.Engine.Documents;
using Consort.Engine.Scope;
using Consort.Workbench.Charts;

namespace Consort.Workbench.Screens.Scope;

/// <summary>A sweep as a chart: a lane for each trace, time along the bottom.</summary>
internal static class ScopeChart
{
    private const int BelowDivision = 3; // the read-out tells a thousandth of a division

    /// <summary>The sweep, of the very points that its files list.</summary>
    public static ChartData Of(ScopeRecord record)
    {
        (double factor, string unit) = ScopeWords.TimeUnit(record.SecondsPerDivision);
        double step = factor * record.SecondsPerDivision;
        int[] moments = [.. record.Moments];
        double[] times = [.. moments.Select(i => factor * record.Times[i])];
        return new(
            "oscillogram",
            $"Traces of {string.Join(", ", record.Traces.Select(trace => trace.Name))}",
            new(unit, unit, Digits(step)),
            new("", "", 0),
            [.. record.Traces.Select((trace, index) => Line(trace, index, moments, times))]
        )
        {
            Divisions = new(factor * record.From, factor * record.To, step, ScopeWords.Trigger(record)),
            Marks = record.Triggered ? [new(0, "")] : [],
            Height = ChartLanes.Height(record.Traces.Length),
        };
    }

    private static ChartLine Line(Trace trace, int index, int[] moments, double[] times)
    {
        (double factor, string unit) = ScopeWords.VoltUnit(trace.Lane.VoltsPerDivision);
        double step = factor * trace.Lane.VoltsPerDivision;
        return new(trace.Name, index, [.. times.Zip(moments, (time, i) => (time, factor * trace.Volts[i]))])
        {
            Lane = new(new($"{Figures.Si(trace.Lane.VoltsPerDivision, "V")} per division", unit, Digits(step)), step, factor * trace.Lane.Centre),
        };
    }

    private static int Digits(double step) => Math.Max(0, BelowDivision - (int)Math.Floor(Math.Log10(step) + 1e-9));
}
