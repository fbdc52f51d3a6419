namespace Consort.Engine.Quantities;

/// <summary>Phases counted in turns, whole ones of which make no difference.</summary>
internal static class Turns
{
    /// <summary>What is left without whole turns, 0 to 1.</summary>
    public static double Part(double turns) => turns - Math.Floor(turns);

    /// <summary>A difference of phases the short way round, −½ to ½.</summary>
    public static double Short(double apart) => apart - Math.Round(apart);

    /// <summary>The middle one of phases that lie about the first of them.</summary>
    public static double Middle(IReadOnlyList<double> phases) => phases[0] + Median.Of(phases.Select(phase => Short(phase - phases[0])));
}
