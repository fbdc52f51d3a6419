using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Verdicts;

/// <summary>Builds the chains from a figure down to parts.</summary>
internal static class Reasons
{
    private const int MostParts = 6;
    private const double Negligible = 5e-4;

    /// <summary>A reason in words only.</summary>
    public static Reason Words(string text, params ReadOnlySpan<Reason> children) => new(text, null, null, null, [.. children]);

    /// <summary>A reason with a figure.</summary>
    public static Reason Figure(string text, double value, string unit, params ReadOnlySpan<Reason> children) =>
        new(text, value, unit, null, [.. children]);

    /// <summary>The lines of a budget at one of its notes, by cause and part.</summary>
    public static ImmutableArray<Reason> ByCause(ImmutableArray<BudgetLine> lines, int note) =>
        [
            .. lines
                .GroupBy(line => line.Cause)
                .Select(group => Group(group.Key, [.. group], note))
                .Where(reason => Math.Abs(reason.Value!.Value) >= Negligible || reason.Children.Length > 0)
                .OrderByDescending(reason => Math.Abs(reason.Value!.Value)),
        ];

    private static Reason Group(Cause cause, BudgetLine[] lines, int note)
    {
        BudgetLine[] ordered = [.. lines.OrderByDescending(line => Math.Abs(line.Cents[note]))];
        List<Reason> children =
        [
            .. ordered.Take(MostParts).Where(line => Math.Abs(line.Cents[note]) >= Negligible).Select(line => Leaf(line, note)),
        ];
        double rest = ordered.Skip(MostParts).Sum(line => line.Cents[note]);
        if (Math.Abs(rest) >= Negligible)
            children.Add(Figure("all others", rest, "cents"));
        return new(Name(cause), lines.Sum(line => line.Cents[note]), "cents", null, [.. children]);
    }

    private static Reason Leaf(BudgetLine line, int note)
    {
        double perPercent = line.Cents[note] / 100;
        PartReason part = new(line.Part, line.Parameter, line.Value, line.Unit, perPercent, "1 % of it");
        return new($"{line.Part}: {line.Parameter}", line.Cents[note], "cents", part, []);
    }

    /// <summary>A cause in the words of a report.</summary>
    public static string Name(Cause cause) =>
        cause switch
        {
            Cause.Loading => "loading by cords, jacks and inputs",
            Cause.Ratios => "resistor and capacitor ratios",
            Cause.Offsets => "offsets and bias currents",
            Cause.Converter => "exponential converter",
            Cause.Reset => "reset of the core",
            Cause.Leakage => "leakage",
            Cause.Link => "link buffers",
            Cause.Ground => "shared ground",
            Cause.Supply => "supply",
            _ => "not a source of pitch error",
        };
}
