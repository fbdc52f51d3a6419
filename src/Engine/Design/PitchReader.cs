using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads how an oscillator's pitch is counted and what it should be.</summary>
internal static class PitchReader
{
    private const string ReferenceExample = "reference: 32.703 Hz at 0 V";
    private const string CountedExample = "counted: rising through 2.5 V on saw core";

    /// <summary>The pitch spec; null, with errors, when it is incomplete or does not fit the circuit.</summary>
    /// <param name="partsSound">False when the circuit has errors: then it is not looked into.</param>
    public static PitchSpec? Read(MapReader map, ImmutableArray<Part> parts, bool partsSound)
    {
        string? control = map.Text("control");
        double? law = map.NeedNumber("law", Dimension.VoltagePerOctave, "law: 1 V/oct");
        (double Hertz, double Volts)? reference = Entry(map, "reference", ReferenceExample) is { } r ? Reference(r, map) : null;
        Counted? counted = Entry(map, "counted", CountedExample) is { } c ? Count(c, map) : null;
        string? capacitor = map.NeedText("timing capacitor", "timing capacitor: C5");
        map.RefuseTheRest();
        if (law is 0)
            map.Errors.Add(ErrorCodes.OutOfRange, map.Map.Find("law")!.Value.At, "pitch: law cannot be 0", "write 'law: 1 V/oct'");
        if (partsSound)
            CheckAgainst(parts, map, control, counted, capacitor);
        return law is null or 0 || reference is null || counted is null || capacitor is null ? null
            : new(control, law.Value, reference.Value.Hertz, reference.Value.Volts, counted.Value.Net, counted.Value.Level, counted.Value.Rising, capacitor);
    }

    private readonly record struct Counted(bool Rising, double Level, string Net);

    private static YamlText? Entry(MapReader map, string key, string example) =>
        map.Need(key, example) is { } entry ? map.TextOf(entry) : null;

    private static (double, double)? Reference(YamlText text, MapReader map)
    {
        if (text.Value.Split(" at ") is not [string frequency, string voltage])
            return Refuse<(double, double)>(text, "reference", ReferenceExample, map);
        double? hertz = map.Errors.Quantity(text with { Value = frequency.Trim() }, Dimension.Frequency, "pitch: reference");
        double? volts = map.Errors.Quantity(text with { Value = voltage.Trim() }, Dimension.Voltage, "pitch: reference");
        if (hertz is <= 0)
            map.Errors.Add(ErrorCodes.OutOfRange, text.At, "pitch: the reference's frequency must be above 0", $"write '{ReferenceExample}'");
        return hertz is > 0 && volts is not null ? (hertz.Value, volts.Value) : null;
    }

    private static Counted? Count(YamlText text, MapReader map)
    {
        string[] words = text.Value.Split(' ', 3);
        if (words is not [("rising" or "falling"), "through", string rest] || rest.IndexOf(" on ", StringComparison.Ordinal) is not (> 0 and int on))
            return Refuse<Counted>(text, "counted", CountedExample, map);
        double? level = map.Errors.Quantity(text with { Value = rest[..on].Trim() }, Dimension.Voltage, "pitch: counted");
        string net = rest[(on + 4)..].Trim();
        return level is null || net.Length == 0 ? null : new(words[0] == "rising", level.Value, net);
    }

    private static T? Refuse<T>(YamlText text, string key, string example, MapReader map)
        where T : struct
    {
        map.Errors.Add(ErrorCodes.PitchText, text.At, $"pitch: {key} {ErrorList.Quote(text.Value)} cannot be understood", $"write '{example}'");
        return null;
    }

    private static void CheckAgainst(ImmutableArray<Part> parts, MapReader map, string? control, Counted? counted, string? capacitor)
    {
        string[] inputs = [.. parts.Where(p => p.Kind.Word == "jack" && p.Texts["value"] == "input").Select(p => p.Texts["label"])];
        if (control is not null && !inputs.Contains(control))
            map.Errors.Add(ErrorCodes.PitchControl, map.Map.Find("control")!.Value.At, $"pitch: no input jack is labelled {ErrorList.Quote(control)}", NearName.Mend(control, inputs));
        string[] nets = [.. parts.SelectMany(p => p.Terminals).Select(joint => joint.Net).Distinct()];
        if (counted is { } c && !nets.Contains(c.Net))
            map.Errors.Add(ErrorCodes.PitchNet, map.Map.Find("counted")!.Value.At, $"pitch: the circuit has no net {ErrorList.Quote(c.Net)}", NearName.Mend(c.Net, nets));
        if (capacitor is not null)
            CheckCapacitor(parts, map, capacitor);
    }

    private static void CheckCapacitor(ImmutableArray<Part> parts, MapReader map, string name)
    {
        SourceSpan at = map.Map.Find("timing capacitor")!.Value.At;
        Part[] capacitors = [.. parts.Where(p => p.Kind.Word == "capacitor")];
        if (Array.Find(capacitors, p => p.Name == name) is not { } part)
            map.Errors.Add(ErrorCodes.TimingCapacitor, at, $"pitch: the circuit has no capacitor {ErrorList.Quote(name)}", NearName.Mend(name, [.. capacitors.Select(p => p.Name)]));
        else if (double.IsNaN(part.Number("starts at")))
            map.Errors.Add(ErrorCodes.TimingCapacitor, at, $"pitch: {name} does not say where it starts", $"add 'starts at: 0 V' to {name}");
    }
}
