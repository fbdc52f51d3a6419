using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>
/// Moves controls of a voice by words: <c>lead/P4=30%</c>, <c>second/SW1=3</c>, or by the names of nets as the module's
/// file has them, the wiper's or the pole's and the way's: <c>lead/width=30%</c>, <c>second/sync pull=soft limit</c>. A player
/// is set by its name: <c>wheel=0.5 V</c>.
/// </summary>
public static class ControlMoves
{
    /// <summary>The voice with its controls moved, and every word that could not be followed.</summary>
    public static (Voice Voice, ImmutableArray<WordFault> Faults) Apply(Voice voice, IEnumerable<string> moves)
    {
        ImmutableArray<WordFault>.Builder faults = ImmutableArray.CreateBuilder<WordFault>();
        foreach (string move in moves)
        {
            int split = move.IndexOf('=', StringComparison.Ordinal);
            (string name, string value) = split < 0 ? (move.Trim(), "") : (move[..split].Trim(), move[(split + 1)..].Trim());
            (Voice? moved, WordFault? fault) =
                value.Length == 0 ? (null, new($"'{move.Trim()}' moves nothing", "write CONTROL=POSITION, as lead/P4=30%"))
                : name.Contains('/', StringComparison.Ordinal) ? MoveControl(voice, name, value)
                : SetPlayer(voice, name, value);
            if (fault is not null)
                faults.Add(fault);
            voice = moved ?? voice;
        }
        return (voice, faults.ToImmutable());
    }

    private static (Voice?, WordFault?) MoveControl(Voice voice, string name, string value)
    {
        int slash = name.IndexOf('/', StringComparison.Ordinal);
        (string owner, string control) = (name[..slash].Trim(), name[(slash + 1)..].Trim());
        Member? member = voice.Members.FirstOrDefault(member => member.Name == owner);
        if (member is null)
            return (null, new($"there is no module '{owner}' in the voice", NearName.Mend(owner, [.. voice.Members.Select(m => m.Name)])));
        (Part? part, WordFault? fault) = Find(member, control);
        if (part is null)
            return (null, fault);
        (double position, WordFault? wrong) = Position(name, part, value);
        return wrong is not null
            ? (null, wrong)
            : (voice with { Members = voice.Members.Replace(member, member with { Set = member.Set.SetItem(part.Name, position) }) }, null);
    }

    private static (Part?, WordFault?) Find(Member member, string control)
    {
        Part[] movable = [.. member.Module.Circuit.Where(part => part.Kind.Word is "potentiometer" or "trimmer" or "selector")];
        if (movable.FirstOrDefault(part => part.Name == control) is { } named)
            return (named, null);
        Part[] joined = [.. movable.Where(part => NetOf(part) == control)];
        if (joined.Length == 1)
            return (joined[0], null);
        string what = $"'{member.Name}' has no control '{control}'";
        if (joined.Length > 1)
            return (null, new($"{joined.Length} controls of '{member.Name}' move '{control}'", $"name one: {string.Join(", ", joined.Select(part => part.Name))}"));
        if (movable.Length == 0)
            return (null, new(what, "its module has no controls"));
        return NearName.Of(control, movable.SelectMany(part => new[] { part.Name, NetOf(part) })) is { } near
            ? (null, new(what, $"did you mean '{near}'?"))
            : (null, new(what, $"it has {string.Join(", ", movable.Select(part => $"{part.Name} ({NetOf(part)})"))}"));
    }

    private static string NetOf(Part part) => part.NetAt(part.Kind.Word == "selector" ? "pole" : "wiper") ?? "";

    private static (double, WordFault?) Position(string name, Part part, string value)
    {
        if (part.Kind.Word != "selector")
            return Quantity.TryRead(value, Dimension.Ratio, bare: true, out double share, out _) && share is >= 0 and <= 1
                ? (share, null)
                : (0, new($"{name}: '{value}' is no position", "a position is 0% (counter-clockwise) to 100%"));
        string[] ways = [.. part.Terminals.Where(joint => joint.Terminal.StartsWith("way ", StringComparison.Ordinal)).Select(joint => joint.Net)];
        int named = Array.IndexOf(ways, value);
        if (named >= 0)
            return (named + 1, null);
        return int.TryParse(value, out int way) && way >= 1 && way <= ways.Length
            ? (way, null)
            : (0, new($"{name}: '{value}' is none of its ways", $"1 to {ways.Length}, or one of {string.Join(", ", ways)}"));
    }

    private static (Voice?, WordFault?) SetPlayer(Voice voice, string name, string value)
    {
        Player? player = voice.Players.FirstOrDefault(player => player.Name == name);
        if (player is null)
            return (null, new($"there is no player '{name}' in the voice",
                $"players are {string.Join(", ", voice.Players.Select(p => p.Name))}; a control is named with its module, as lead/P4"));
        if (player.IsPitch)
            return (null, new($"'{name}' plays the pitch", "say which with --play"));
        return Quantity.TryRead(value, Dimension.Voltage, bare: false, out double volts, out QuantityFault? fault)
            ? (voice with { Players = voice.Players.Replace(player, player with { At = volts }) }, null)
            : (null, new($"{name}: {fault!.What}", fault.Mend));
    }
}
