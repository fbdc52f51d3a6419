using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

internal sealed partial class VoiceReader
{
    private readonly ImmutableDictionary<string, SourceSpan>.Builder railsAt =
        ImmutableDictionary.CreateBuilder<string, SourceSpan>();
    private SourceSpan supplyAt;

    private Limits ReadLimits(MapReader? map)
    {
        if (map is null)
            return new(3, 5, 1, 20, 288.15, 308.15, 3, null);
        double tracking = map.InRange("tracking", Dimension.Interval, 3, 0, 1200);
        double octaves = map.InRange("octaves", Dimension.Ratio, 5, 0.1, 20);
        double from = map.InRange("from", Dimension.Voltage, 1, -20, 20);
        double drift = map.InRange("drift", Dimension.Interval, 20, 0, 12000);
        (double cold, double warm) = Temperatures(map);
        double follower = map.InRange("follower error", Dimension.Interval, 3, 0, 1200);
        double yield = map.InRange("yield", Dimension.Ratio, 0.9, 0, 1);
        double gradient = map.InRange("warm-up gradient", Dimension.TemperatureStep, 1, -50, 50);
        int? followers = map.Map.Find("followers") is null
            ? null
            : (int)map.InRange("followers", Dimension.Ratio, 0, 0, 64, whole: true);
        map.Take("followers");
        map.RefuseTheRest();
        return new(tracking, octaves, from, drift, cold, warm, follower, followers) { Yield = yield, WarmUpGradient = gradient };
    }

    private (double Cold, double Warm) Temperatures(MapReader map)
    {
        ImmutableArray<YamlNode> items = map.Items("temperatures");
        if (map.Map.Find("temperatures") is not { Value: YamlList } entry)
            return (288.15, 308.15);
        double?[] kelvin =
        [
            .. items.Select(item => item is YamlText text ? errors.Quantity(text, Dimension.Temperature, "limits: temperatures") : null),
        ];
        if (kelvin.Length == 2 && kelvin[0] is { } cold && kelvin[1] is { } warm && cold <= warm)
            return (cold, warm);
        if (kelvin.Length != 2 || kelvin.All(value => value is not null) || items.Any(item => item is not YamlText))
            errors.Add(ErrorCodes.OutOfRange, entry.Value.At, "limits: temperatures are two, the lower first",
                "write 'temperatures: [15 °C, 35 °C]'");
        return (288.15, 308.15);
    }

    private Supply ReadSupply()
    {
        supplyAt = file.Need("supply", "supply: {rails: {...}}")?.KeyAt ?? file.At;
        if (file.Inner("supply") is not { } map)
            return new([], 0, 0);
        double slot = map.InRange("slot resistance", Dimension.Resistance, 0, 0, 1000, bare: true);
        double ground = map.InRange("ground slot resistance", Dimension.Resistance, slot, 0, 1000, bare: true);
        ImmutableArray<Rail>.Builder rails = ImmutableArray.CreateBuilder<Rail>();
        map.Need("rails", "rails: {+12 V: {voltage: 12 V, limit: 1 A}}");
        if (map.Inner("rails") is { } list)
            foreach (YamlEntry entry in list.Map.Entries)
                if (list.MapOf(entry) is { } rail)
                    rails.Add(ReadRail(entry, new(rail, entry.Key, errors)));
        map.RefuseTheRest();
        return new(rails.ToImmutable(), slot, ground);
    }

    private Rail ReadRail(YamlEntry entry, MapReader map)
    {
        railsAt[entry.Key] = entry.KeyAt;
        if (entry.Key == CircuitDesign.Ground)
            errors.Add(ErrorCodes.UnusableName, entry.KeyAt, "0 V is no rail: every supply has it", "delete the entry");
        double volts = map.NeedNumber("voltage", Dimension.Voltage, $"voltage: {entry.Key}") ?? 0;
        double ohms = map.InRange("source resistance", Dimension.Resistance, 0, 0, 1000, bare: true);
        double tempco = map.InRange("tempco", Dimension.PerKelvin, 0, -0.01, 0.01);
        map.Need("limit", "limit: 1 A");
        double limit = map.InRange("limit", Dimension.Current, 1, 0, 100);
        map.RefuseTheRest();
        return new(entry.Key, volts, ohms, tempco, limit);
    }

    private (ImmutableArray<Cord>, ImmutableArray<CordAt>) ReadCords(JackBook book)
    {
        ImmutableArray<Cord>.Builder cords = ImmutableArray.CreateBuilder<Cord>();
        ImmutableArray<CordAt>.Builder places = ImmutableArray.CreateBuilder<CordAt>();
        foreach (MapReader map in file.Maps("cords", "cord", "{from: keyboard/out, to: lead/pitch}"))
        {
            YamlText? from = Name(map, "from");
            YamlText? to = Name(map, "to");
            double length = map.InRange("length", Dimension.Length, 0.6, 0, 100);
            map.RefuseTheRest();
            JackName? a = Jack(from, map.Who, book);
            JackName? b = Jack(to, map.Who, book);
            if (a is null || b is null)
                continue;
            cords.Add(new(a.Value, b.Value, length, map.At));
            places.Add(new(from!.At, to!.At));
        }
        return (cords.ToImmutable(), places.ToImmutable());
    }

    private (ImmutableArray<Ribbon>, ImmutableArray<RibbonAt>) ReadRibbons(JackBook book)
    {
        ImmutableArray<Ribbon>.Builder ribbons = ImmutableArray.CreateBuilder<Ribbon>();
        ImmutableArray<RibbonAt>.Builder places = ImmutableArray.CreateBuilder<RibbonAt>();
        foreach (MapReader map in file.Maps("ribbons", "ribbon", "{from: lead/link, to: [second/link]}"))
        {
            YamlText? from = Name(map, "from");
            map.Need("to", "to: [second/link]");
            YamlText[] to = Followers(map);
            double length = map.InRange("length", Dimension.Length, 0.12, 0, 100);
            double gauge = map.InRange("gauge", Dimension.Ratio, 28, 0, 50);
            map.RefuseTheRest();
            JackName? lead = Header(from, map.Who, book);
            JackName?[] followers = [.. to.Select(text => Header(text, map.Who, book))];
            if (lead is not { } a || followers.Contains(null) || followers.Length == 0)
                continue;
            ribbons.Add(new(a, [.. followers.Select(name => name!.Value)], length, gauge, map.At));
            places.Add(new(from!.At, [.. to.Select(text => text.At)]));
        }
        return (ribbons.ToImmutable(), places.ToImmutable());
    }

    private YamlText[] Followers(MapReader map)
    {
        ImmutableArray<YamlNode> items = map.Items("to");
        foreach (YamlNode item in items.Where(item => item is not YamlText))
            errors.Add(ErrorCodes.WrongShape, item.At, $"{map.Who}: {item.Shape} stands where a header is named",
                "write MEMBER/HEADER, as second/link");
        if (items.IsEmpty && map.Map.Find("to") is { Value: YamlList list })
            errors.Add(ErrorCodes.NoValue, list.At, $"{map.Who} leads nowhere", "name a follower's header, as [second/link]");
        return [.. items.OfType<YamlText>()];
    }

    private static YamlText? Name(MapReader map, string key) =>
        map.Need(key, $"{key}: lead/pitch") is { } entry ? map.TextOf(entry) : null;

    private JackName? Jack(YamlText? text, string who, JackBook book)
    {
        if (Split(text, who, "lead/pitch") is not { } name || !IsThere(name.Owner, text!, who, book.Owners))
            return null;
        if (book.Face(name) is not null)
            return name;
        errors.Add(ErrorCodes.UnknownJack, text!.At, $"{who}: {name.Owner} has no jack {ErrorList.Quote(name.Label)}",
            NearName.Mend(name.Label, book.Labels(name.Owner)));
        return null;
    }

    private JackName? Header(YamlText? text, string who, JackBook book)
    {
        if (Split(text, who, "lead/link") is not { } name || !IsThere(name.Owner, text!, who, book.Members))
            return null;
        if (book.Headers(name.Owner).Contains(name.Label))
            return name;
        errors.Add(ErrorCodes.UnknownHeader, text!.At, $"{who}: {name.Owner} has no header {ErrorList.Quote(name.Label)}",
            book.Headers(name.Owner).IsEmpty ? "give the module a header" : NearName.Mend(name.Label, book.Headers(name.Owner)));
        return null;
    }

    private bool IsThere(string owner, YamlText text, string who, IReadOnlyCollection<string> known)
    {
        if (known.Contains(owner))
            return true;
        if (!broken.Contains(owner))
            errors.Add(ErrorCodes.UnknownMember, text.At, $"{who}: nothing here is named {ErrorList.Quote(owner)}",
                NearName.Mend(owner, [.. known, .. broken]));
        return false;
    }

    private JackName? Split(YamlText? text, string who, string example)
    {
        if (text is null)
            return null;
        int slash = text.Value.IndexOf('/', StringComparison.Ordinal);
        if (slash > 0 && slash < text.Value.Length - 1)
            return new(text.Value[..slash].Trim(), text.Value[(slash + 1)..].Trim());
        errors.Add(ErrorCodes.NotAJackName, text.At, $"{who}: {ErrorList.Quote(text.Value)} names no jack", $"write OWNER/LABEL, as {example}");
        return null;
    }
}
