using Consort.Engine.Documents;
using Consort.Engine.Scope;

namespace Consort.Workbench.Charts;

/// <summary>Lays out lanes, one below the other, as a sweep's kept picture does.</summary>
internal static class ChartLanes
{
    private const double Gap = 1.3; // above each lane, divisions: its name stands there
    private const double Foot = 0.1; // below the last, so that its edge is drawn
    private const int Division = 20; // pixels
    private const int Axis = 62; // below, pixels, with the padding above

    /// <summary>Height of a chart of so many lanes, pixels.</summary>
    public static int Height(int lanes) => Axis + (int)Math.Ceiling(Division * (lanes * Pitch + Foot));

    private static double Pitch => 2 * Lane.HalfDivisions + Gap;

    /// <summary>What the browser needs to know of a line's lane; null when it has none.</summary>
    public static object? Spec(ChartData data, int index)
    {
        if (data.Lines[index].Lane is not { } lane)
            return null;
        double head = Lane.HalfDivisions + Gap + index * Pitch;
        double foot = head - data.Lines.Length * Pitch - Foot;
        double At(double division) => lane.Centre + lane.PerDivision * division;
        return new
        {
            low = At(foot), // of the whole plot, in this line's unit: so its lane comes to lie where it belongs
            high = At(head),
            bottom = At(-Lane.HalfDivisions),
            top = At(Lane.HalfDivisions),
            rules = Enumerable.Range(-Lane.HalfDivisions, 2 * Lane.HalfDivisions + 1).Select(division => At(division)),
            ticks = new[] { -2, 0, 2 }.Select(division => new { at = At(division), name = $"{ScopeWords.Plain(At(division))} {lane.Scale.Unit}" }),
            title = lane.Scale.Title,
            unit = lane.Scale.Unit,
            digits = lane.Scale.Digits,
        };
    }
}
