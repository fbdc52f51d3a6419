using System.Globalization;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Documents;

/// <summary>What builds do, in sentences.</summary>
public static class SpreadWords
{
    /// <summary>What a gradient of temperature does to them.</summary>
    public static string Write(LagFigure lag) =>
        $"While it warms up, with resistors that make up for temperature {lag.Kelvin.ToString("0.##", CultureInfo.InvariantCulture)} K behind the rest, notes move by up to "
        + $"{Figures.CentsOrNone(lag.Median)} cents in half of the builds, {Figures.CentsOrNone(lag.Most)} in 19 of 20, {Figures.CentsOrNone(lag.Worst)} in the worst: "
        + "trim when it is warm, and put such a resistor on its transistors.";
}
