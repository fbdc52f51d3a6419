using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

internal sealed partial class VoiceReader
{
    private VoicePlan? ReadPlan(ImmutableArray<Member> members, ImmutableArray<Player> players)
    {
        if (file.Inner("plan") is not { } map)
            return null;
        ImmutableArray<PlannedOscillator> oscillators = map.Inner("oscillators") is { } list ? ReadPlanned(list, members) : [];
        ImmutableArray<Wish>.Builder wishes = ImmutableArray.CreateBuilder<Wish>();
        foreach (YamlNode item in map.Items("wishes"))
            if (item is not YamlMap wish)
                errors.Add(ErrorCodes.WrongShape, item.At, $"plan: a wish is {item.Shape}, not a map", "write '- {player: keyboard, to: pitch}'");
            else if (ReadWish(new(wish, "wish", errors), players, oscillators) is { } read)
                wishes.Add(read);
        RackCase into = map.Inner("case") is { } room ? ReadCase(room) : RackCase.Any;
        map.RefuseTheRest();
        return new(oscillators, wishes.ToImmutable(), into);
    }

    private static RackCase ReadCase(MapReader map)
    {
        RackCase read = new(
            map.InRange("row", Dimension.PanelWidth, 0, 0, 10),
            (int)map.InRange("rows", Dimension.Ratio, 0, 0, 100, whole: true),
            map.InRange("depth", Dimension.Length, 0, 0, 2),
            (int)map.InRange("pins", Dimension.Ratio, 1, 1, 16, whole: true),
            map.InRange("pin rating", Dimension.Current, RackCase.Any.PinAmps, 0.01, 50)
        );
        map.RefuseTheRest();
        return read;
    }

    // A planned oscillator may be a member that stands there already; any other name has to be free.
    private ImmutableArray<PlannedOscillator> ReadPlanned(MapReader list, ImmutableArray<Member> members)
    {
        foreach (YamlEntry entry in list.Map.Entries.Where(entry => members.All(member => member.Name != entry.Key)))
            Claim(entry);
        return [.. list.Map.Entries.Select(entry => new PlannedOscillator(entry.Key, list.NumberOf(entry, Dimension.Interval) ?? 0))];
    }

    private Wish? ReadWish(MapReader map, ImmutableArray<Player> players, ImmutableArray<PlannedOscillator> oscillators)
    {
        YamlText? player = map.Need("player", "player: keyboard") is { } entry ? map.TextOf(entry) : null;
        string? to = map.NeedText("to", "to: pitch");
        string[] all = [.. oscillators.Select(oscillator => oscillator.Name)];
        YamlText[] only = [.. map.Items("only").OfType<YamlText>()];
        map.RefuseTheRest();
        foreach (YamlText name in only.Where(name => !all.Contains(name.Value)))
            errors.Add(ErrorCodes.UnknownMember, name.At, $"wish: no oscillator of the plan is named {ErrorList.Quote(name.Value)}", NearName.Mend(name.Value, all));
        if (player is not null && players.All(known => known.Name != player.Value) && !broken.Contains(player.Value))
            errors.Add(ErrorCodes.UnknownMember, player.At, $"wish: no player is named {ErrorList.Quote(player.Value)}", NearName.Mend(player.Value, [.. players.Select(known => known.Name)]));
        return player is null || to is null ? null : new(player.Value, to, only.Length == 0 ? [.. all] : [.. only.Select(name => name.Value)]);
    }
}
