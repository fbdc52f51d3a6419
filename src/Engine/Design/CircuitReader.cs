using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Reads a <c>circuit:</c> map into parts and checks what they join.</summary>
public static class CircuitReader
{
    private const string Pair = "matched pair";

    /// <summary>The parts in the file's order. Where anything is wrong the errors say so and parts may be missing.</summary>
    public static ImmutableArray<Part> Read(YamlMap circuit, PartsLibrary library, ErrorList errors)
    {
        int before = errors.Count;
        CircuitScope scope = new(library, errors);
        Dictionary<string, Part?> pairs = ReadPairs(circuit, scope);
        ImmutableArray<Part>.Builder parts = ImmutableArray.CreateBuilder<Part>();
        foreach (YamlEntry entry in circuit.Entries)
        {
            Part? part = pairs.TryGetValue(entry.Key, out Part? pair) ? pair : ReadPart(entry, scope);
            if (part is not null)
                parts.Add(part);
            else
                NoteNetsOfBrokenPart(entry, scope);
        }
        foreach (PairInUse used in scope.Pairs.Values)
            used.CheckComplete();
        ArrayCheck.Run(parts.ToImmutable(), errors);
        new NetCheck(scope, circuit.At).Check(parts.ToImmutable(), complete: errors.Count == before);
        return parts.ToImmutable();
    }

    private static Dictionary<string, Part?> ReadPairs(YamlMap circuit, CircuitScope scope)
    {
        Dictionary<string, Part?> pairs = [];
        foreach (YamlEntry entry in circuit.Entries)
        {
            if (entry.Value is not YamlMap { Entries: [{ Key: Pair }, ..] })
                continue;
            Part? part = pairs[entry.Key] = ReadPart(entry, scope);
            if (part is not null)
                scope.Pairs[entry.Key] = new(part, scope.Library.Find(part.Kind, part.Texts["model"]), scope.Errors);
            else
                scope.BrokenPairs.Add(entry.Key);
        }
        return pairs;
    }

    private static Part? ReadPart(YamlEntry entry, CircuitScope scope)
    {
        if (entry.Key.AsSpan().IndexOfAny('/', '[', ']') >= 0)
            scope.Errors.Add(ErrorCodes.BadName, entry.KeyAt, $"{ErrorList.Quote(entry.Key)} cannot name a part", "use letters, digits and spaces, as R3");
        if (entry.Value is not YamlMap { Entries.Length: > 0 } map)
        {
            scope.Errors.Add(ErrorCodes.NotAPart, entry.KeyAt, $"{ErrorList.Quote(entry.Key)} is {entry.Value.Shape}, not a part",
                $"write '{entry.Key}: {{resistor: 100k, from: net, to: net}}'");
            return null;
        }
        return KindOf(entry.Key, map, scope.Errors) is { } kind ? new PartReader(entry, kind, scope).Read() : null;
    }

    private static PartKind? KindOf(string name, YamlMap map, ErrorList errors)
    {
        YamlEntry first = map.Entries[0];
        if (PartKinds.Find(first.Key) is { } kind)
            return kind;
        string? near = NearName.Of(first.Key, PartKinds.All.Select(k => k.Word));
        if (near is null && map.Entries.FirstOrDefault(e => PartKinds.Find(e.Key) is not null) is { } later)
            errors.Add(ErrorCodes.KindNotFirst, later.KeyAt, $"{name}: its kind '{later.Key}' does not stand first", $"begin with '{later.Key}: ...'");
        else if (first.Key.Split(':') is [string word, ..] && word.Length < first.Key.Length && PartKinds.Find(word) is not null)
            errors.Add(ErrorCodes.NoValue, first.KeyAt, $"{name}: {ErrorList.Quote(first.Key)} is a name without a value", $"put a space after the colon: {first.Key.Replace(":", ": ")}");
        else
            errors.Add(ErrorCodes.UnknownKind, first.KeyAt, $"{name}: there is no kind of part {ErrorList.Quote(first.Key)}",
                near is null ? "`consort kinds` lists the kinds" : $"did you mean '{near}'?");
        return null;
    }

    // A part with a mistake still joins its nets: else every neighbour would be called unjoined.
    private static void NoteNetsOfBrokenPart(YamlEntry entry, CircuitScope scope)
    {
        if (entry.Value is not YamlMap map)
            return;
        foreach (YamlNode value in map.Entries.Select(e => e.Value).SelectMany(v => v is YamlList list ? list.Items.AsEnumerable() : [v]))
            if (value is YamlText { IsNothing: false } text && !scope.Uses.Exists(use => use.At == text.At))
                scope.Uses.Add(new(text.Value, entry.Key, "", text.At, true));
    }
}
