using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;

namespace Consort.Engine.Faults;

/// <summary>What may be wrong with a module, from its own circuit: each part by what parts of its kind suffer at the bench (common
/// practice, no source).</summary>
internal static class FaultList
{
    private const double ShortOhms = 0.2, StuckOhms = 50;
    private const double WeakGain = 0.1;
    private const double OpenFarads = 1e-15;

    // Bands next to each other in light that is none too good: brown, red, orange, violet, grey (common practice, no source).
    private static readonly Dictionary<char, char> Misread = new() { ['1'] = '2', ['2'] = '3', ['3'] = '2', ['4'] = '7', ['7'] = '4', ['5'] = '6', ['6'] = '5', ['8'] = '6' };

    /// <summary>All of them, in the order of the file.</summary>
    public static ImmutableArray<Fault> Of(Module module) => [.. module.Circuit.SelectMany(OfPart).Concat(Swaps(module)).OfType<Fault>().DistinctBy(fault => fault.Words)];

    private static IEnumerable<Fault?> OfPart(Part part) =>
        part.Kind.Word switch
        {
            "resistor" => [.. Values(part, "Ω"), Set(part, FaultKind.Open, "is open", Rework.LeakOhms), Set(part, FaultKind.Short, "is bridged", ShortOhms)],
            "capacitor" => [.. Values(part, "F"), Set(part, FaultKind.Open, "is open", OpenFarads), Joined(part, part.Terminals[0].Terminal, part.Terminals[1].Terminal, "is shorted")],
            "trimmer" or "potentiometer" => [.. Tracks(part)],
            "npn" or "pnp" => Transistor(part),
            "n jfet" or "p jfet" => [Gone(part, "does not conduct"), Joined(part, "drain", "source", "is shorted from drain to source")],
            "diode" => [Gone(part, "is open"), Joined(part, "anode", "cathode", "is shorted"), Turned(part, "anode", "cathode", "is the wrong way round")],
            "op amp" => [.. Stuck(part), Off(part, "out"), Off(part, "minus"), Off(part, "plus"), Joined(part, "out", "minus", "has out and minus bridged")],
            "comparator" => Comparator(part),
            "ota" => [Off(part, "out"), Off(part, "bias")],
            "reference" or "regulator" => [Off(part, "out"), Joined(part, "in", "out", "is shorted from in to out")],
            "header" => RibbonFaults.Of(part),
            _ => [],
        };

    private static IEnumerable<Fault> Values(Part part, string unit)
    {
        double value = part.Number("value");
        foreach ((FaultKind kind, double other) in Others(value))
            yield return Set(part, kind, $"is {Figures.Si(other, unit)} instead of {Figures.Si(value, unit)}", other);
    }

    private static IEnumerable<(FaultKind, double)> Others(double value)
    {
        yield return (FaultKind.Decade, 10 * value);
        yield return (FaultKind.Decade, value / 10);
        Series e12 = Series.Find("E12")!;
        yield return (FaultKind.Neighbour, e12.Nearest(1.21 * value));
        yield return (FaultKind.Neighbour, e12.Nearest(value / 1.21));
        double decade = Math.Pow(10, Math.Floor(Math.Log10(value) + 1e-9));
        string digits = Math.Round(value / decade * 100).ToString("0");
        if (digits.Length > 0 && Misread.TryGetValue(digits[0], out char other))
            yield return (FaultKind.Misread, double.Parse(other + digits[1..]) * decade / 100);
    }

    private static IEnumerable<Fault?> Tracks(Part part)
    {
        double value = part.Number("value");
        foreach (double other in (double[])[10 * value, value / 10])
            yield return Set(part, FaultKind.Decade, $"is {Figures.Si(other, "Ω")} instead of {Figures.Si(value, "Ω")}", other);
        foreach (string terminal in (string[])["wiper", "ccw", "cw"])
            yield return Off(part, terminal);
        yield return Turned(part, "ccw", "cw", "has its ends exchanged");
    }

    private static IEnumerable<Fault?> Transistor(Part part)
    {
        yield return Gone(part, "is dead");
        yield return Off(part, "base");
        yield return Joined(part, "collector", "emitter", "is shorted from collector to emitter");
        yield return Turned(part, "collector", "emitter", "is the wrong way round");
        yield return Turned(part, "base", "emitter", "has base and emitter exchanged");
        if (part.Numbers.ContainsKey("forward gain"))
            yield return Changed(FaultKind.Weak, part, "is weak: a tenth of its gain", one => one with { Numbers = one.Numbers.SetItem("forward gain", WeakGain * one.Number("forward gain")) });
    }

    private static IEnumerable<Fault> Stuck(Part part)
    {
        foreach ((string terminal, string side) in ((string, string)[])[("supply +", "high"), ("supply -", "low")])
            if (part.NetAt(terminal) is { } rail && part.NetAt("out") is { } output)
                yield return new(FaultKind.Dead, part.Name, $"{part.Name} is dead, its output stuck {side}")
                {
                    Apply = parts => [.. Rework.Join(Rework.Lift(parts, part, joint => joint.Terminal == "out"), part, rail, output, StuckOhms)],
                };
    }

    private static IEnumerable<Fault> Comparator(Part part)
    {
        yield return Off(part, "out");
        yield return Off(part, "plus");
        yield return Off(part, "minus");
        if (part.NetAt("out") is { } output && (part.NetAt("emitter") ?? part.NetAt("supply -")) is { } low)
            yield return new(FaultKind.Dead, part.Name, $"{part.Name} is dead, its output stuck low")
            {
                Apply = parts => [.. Rework.Join(Rework.Lift(parts, part, joint => joint.Terminal == "out"), part, low, output, StuckOhms)],
            };
    }

    private static IEnumerable<Fault> Swaps(Module module)
    {
        Part[] parts = [.. module.Circuit.Where(part => part.Kind.Word is "resistor" or "capacitor")];
        foreach ((Part a, Part b) in parts.Zip(parts.Skip(1)))
            if (a.Kind == b.Kind && Math.Abs(Math.Log(a.Number("value") / b.Number("value"))) > 0.05)
                yield return new(FaultKind.Swapped, $"{a.Name}, {b.Name}", $"{a.Name} and {b.Name} are in each other's place")
                {
                    Apply = all => [.. Rework.With(Rework.With(all, a.Name, one => Rework.Valued(one, b.Number("value"))), b.Name, one => Rework.Valued(one, a.Number("value")))],
                };
    }

    private static Fault Set(Part part, FaultKind kind, string words, double value) => Changed(kind, part, words, one => Rework.Valued(one, value));

    private static Fault Changed(FaultKind kind, Part part, string words, Func<Part, Part> change) =>
        new(kind, part.Name, $"{part.Name} {words}") { Apply = parts => [.. Rework.With(parts, part.Name, change)] };

    private static Fault Gone(Part part, string words) =>
        new(FaultKind.Dead, part.Name, $"{part.Name} {words}") { Apply = parts => [.. Rework.Lift(parts, part, _ => true)] };

    private static Fault Off(Part part, string terminal) =>
        new(FaultKind.Open, part.Name, $"{part.Name} has no contact at {terminal}") { Apply = parts => [.. Rework.Lift(parts, part, joint => joint.Terminal == terminal)] };

    private static Fault? Joined(Part part, string one, string other, string words) =>
        part.NetAt(one) is { } from && part.NetAt(other) is { } to && from != to
            ? new(FaultKind.Short, part.Name, $"{part.Name} {words}") { Apply = parts => [.. Rework.Join(parts, part, from, to)] }
            : null;

    private static Fault? Turned(Part part, string one, string other, string words) =>
        part.NetAt(one) == part.NetAt(other) ? null : Changed(FaultKind.Turned, part, words, found => Rework.Exchanged(found, one, other));
}
