using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>What values a parameter can have at all: the limits of the models, not of good design.</summary>
internal static class ParameterRange
{
    private static readonly string[] AboveZero =
    [
        "turns", "gauge", "saturation current", "test current", "breakdown current", "current limit", "breakdown voltage",
        "gain", "forward gain", "reverse gain", "input gain", "gain-bandwidth", "slew rate", "bias junctions",
        "sigmas", "on resistance", "off resistance", "open resistance", "input resistance", "leakage resistance", "second pole", "transconductance",
    ];

    private static readonly string[] AboveZeroEndings = [" emission", "emission coefficient", " rejection", " potential", " Early voltage", " knee current"];

    private static readonly string[] BelowOne = ["grading", "depletion limit"];

    /// <summary>What is wrong with a value, as <c>must be above 0</c>; null when nothing is.</summary>
    public static string? Fault(PartKind kind, ParameterSpec spec, double value)
    {
        string word = spec.Word;
        if (double.IsNaN(value))
            return null;
        if (word is "position" or "resolution")
            return value is >= 0 and <= 1 ? null : "must be between 0 and 100%";
        if (spec.IsLimit)
            return value < 0 ? "is a limit either way and cannot be negative"
                : spec.Dimension == Dimension.Ratio && value >= 1 ? "must be below 100%" : null;
        if (BelowOne.Any(word.EndsWith))
            return value is >= 0 and < 1 ? null : "must be at least 0 and below 1";
        if (AboveZero.Contains(word) || AboveZeroEndings.Any(word.EndsWith) || (word == "leakage" && spec.Dimension == Dimension.Resistance))
            return value > 0 ? null : "must be above 0";
        return IsNeverNegative(spec.Dimension) && value < 0 && word != "nominal temperature" ? "cannot be negative" : null;
    }

    /// <summary>The same for the main value.</summary>
    public static string? MainFault(PartKind kind, double value) =>
        kind.Word switch
        {
            "resistor" or "capacitor" or "inductor" or "potentiometer" or "trimmer" or "zener" or "reference" =>
                value > 0 ? null : "must be above 0",
            "regulator" => value != 0 ? null : "cannot be 0",
            "cord" or "ribbon" => value >= 0 ? null : "cannot be negative",
            "selector" => value == Math.Floor(value) && value >= 1 ? null : "is a way, counted from 1",
            _ => null,
        };

    private static bool IsNeverNegative(Dimension dimension) =>
        dimension
            is Dimension.Resistance
                or Dimension.Capacitance
                or Dimension.Inductance
                or Dimension.Time
                or Dimension.Frequency
                or Dimension.Length
                or Dimension.Slew
                or Dimension.VoltageNoise
                or Dimension.CurrentNoise
                or Dimension.Temperature
                or Dimension.ResistancePerLength
                or Dimension.CapacitancePerLength
                or Dimension.InductancePerLength;
}
