using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads the list of trims.</summary>
internal static class TrimReader
{
    /// <summary>The trims that can be read, in the file's order.</summary>
    /// <param name="partsSound">False when the circuit has errors: then trimmers are not looked for in it.</param>
    public static ImmutableArray<TrimStep> Read(MapReader file, ImmutableArray<Part> parts, bool partsSound)
    {
        string[] trimmers = [.. parts.Where(p => p.Kind.Word == "trimmer").Select(p => p.Name)];
        ImmutableArray<TrimStep>.Builder steps = ImmutableArray.CreateBuilder<TrimStep>();
        foreach (YamlNode item in file.Items("trims"))
            if (item is not YamlMap map)
                file.Errors.Add(ErrorCodes.WrongShape, item.At, $"trims: {item.Shape} stands where a trim is wanted", "write '- {trimmer: RV2, for: tracking, low: 1 V, high: 5 V}'");
            else if (Step(new(map, "trim", file.Errors), partsSound ? trimmers : null) is { } step)
                steps.Add(step);
        return steps.ToImmutable();
    }

    private static TrimStep? Step(MapReader map, string[]? trimmers)
    {
        string? name = map.NeedText("trimmer", "trimmer: RV2");
        string? purpose = map.Need("for", "for: tracking") is null ? null : map.Word("for", "tracking", "centre", "high end", "other");
        double? low = map.Number("low", Dimension.Voltage);
        double? high = map.Number("high", Dimension.Voltage);
        double? at = map.Number("at", Dimension.Voltage);
        map.RefuseTheRest();
        if (name is not null && trimmers is not null && !trimmers.Contains(name))
            map.Errors.Add(ErrorCodes.UnknownTrimmer, map.Map.Find("trimmer")!.Value.At, $"trim: the circuit has no trimmer {ErrorList.Quote(name)}", NearName.Mend(name, trimmers));
        if (name is null || purpose is null)
            return null;
        return purpose switch
        {
            "tracking" => low < high ? new(name, TrimPurpose.Tracking, low.Value, high.Value, map.At)
                : Refuse(map, "tracking is trimmed at a low and a higher voltage", "add 'low: 1 V, high: 5 V'"),
            "centre" => at is { } volts ? new(name, TrimPurpose.Centre, volts, volts, map.At)
                : Refuse(map, "the centre is trimmed at one voltage", "add 'at: 3 V'"),
            "high end" => at is { } top ? new(name, TrimPurpose.HighEnd, top, top, map.At)
                : Refuse(map, "the high end is trimmed at one voltage", "add 'at: 8 V'"),
            _ => new(name, TrimPurpose.Other, 0, 0, map.At),
        };
    }

    private static TrimStep? Refuse(MapReader map, string what, string mend)
    {
        map.Errors.Add(ErrorCodes.TrimVoltages, map.At, $"trim: {what}", mend);
        return null;
    }
}
