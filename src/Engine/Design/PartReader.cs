using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Reads one part of a circuit by the table of its kind.</summary>
internal sealed class PartReader
{
    private readonly string name;
    private readonly PartKind kind;
    private readonly YamlMap map;
    private readonly SourceSpan at;
    private readonly CircuitScope scope;
    private readonly ErrorList errors;
    private readonly TerminalReader terminals;
    private readonly ParameterReader values;
    private readonly Dictionary<string, double> numbers = [];
    private readonly Dictionary<string, string> texts = [];
    private readonly HashSet<string> written = [];
    private bool sound = true;

    public PartReader(YamlEntry entry, PartKind kind, CircuitScope scope)
    {
        name = entry.Key;
        at = entry.KeyAt;
        map = (YamlMap)entry.Value;
        this.kind = kind;
        this.scope = scope;
        errors = scope.Errors;
        terminals = new(name, kind, scope.Uses, errors);
        values = new(name, kind, errors);
    }

    /// <summary>The part; null, with errors, when something about it is wrong.</summary>
    public Part? Read()
    {
        foreach (YamlEntry entry in map.Entries.Skip(1))
            Take(entry);
        LibraryEntry? model = Main(map.Entries[0]);
        ImmutableArray<Joint>? joints = terminals.Joints(at);
        CheckWay();
        FillNumbers(model);
        FillTexts(model);
        if (!sound || joints is null)
            return null;
        return new(name, kind, joints.Value, numbers.ToImmutableDictionary(), texts.ToImmutableDictionary(), [.. written], at);
    }

    private void Take(YamlEntry entry)
    {
        if (terminals.Takes(entry))
            return;
        if (kind.Parameters.FirstOrDefault(p => p.Word == entry.Key) is { } parameter)
            Keep(entry.Key, values.Number(parameter, entry));
        else if (kind.Texts.FirstOrDefault(t => t.Word == entry.Key) is { } text && entry.Key != "value")
            Keep(entry.Key, values.Word(text, entry));
        else
            Unknown(entry);
    }

    private void Keep(string word, double? number)
    {
        written.Add(word);
        if (number is { } value)
            numbers[word] = value;
        else
            sound = false;
    }

    private void Keep(string word, string? text)
    {
        written.Add(word);
        if (text is not null)
            texts[word] = text;
        else
            sound = false;
    }

    private void Unknown(YamlEntry entry)
    {
        sound = false;
        string[] words =
        [
            .. kind.Terminals.Select(t => t.List ?? t.Word).Distinct(),
            .. kind.FreeList is { } list ? [list] : Array.Empty<string>(),
            .. kind.Parameters.Select(p => p.Word),
            .. kind.Texts.Select(t => t.Word).Where(w => w != "value"),
        ];
        if (NearName.Of(entry.Key.Split(':')[0], words) is { } near)
            terminals.Excuse(near);
        bool glued = entry.Value is YamlText { IsNothing: true } && entry.Key.Contains(':', StringComparison.Ordinal);
        errors.Add(ErrorCodes.UnknownPartWord, entry.KeyAt, $"{name}: a {kind.Word} has no {ErrorList.Quote(entry.Key)}",
            glued ? $"put a space after the colon: {entry.Key.Replace(":", ": ")}" : NearName.Mend(entry.Key, words));
    }

    private LibraryEntry? Main(YamlEntry entry)
    {
        if (values.Text(entry, Example()) is not { } text)
        {
            sound = false;
            return null;
        }
        switch (kind.Main)
        {
            case MainValue.Quantity:
                Keep("value", values.Main(text));
                break;
            case MainValue.QuantityOrFormula when !FormulaInput.LooksLikeOne(text.Value):
                Keep("value", values.Main(text));
                break;
            case MainValue.QuantityOrFormula:
                numbers["value"] = 0; // the formula stands for it
                Keep("formula", FormulaInput.Read(text, name, scope));
                break;
            case MainValue.Formula:
                Keep("formula", FormulaInput.Read(text, name, scope));
                break;
            case MainValue.Word:
                Keep("value", values.Word(kind.Texts.First(t => t.Word == "value"), entry));
                break;
            default:
                return Model(text);
        }
        return null;
    }

    private LibraryEntry? Model(YamlText text)
    {
        written.Add("model");
        texts["model"] = text.Value;
        if (scope.Pairs.TryGetValue(text.Value, out PairInUse? pair) && kind.Word is "npn" or "pnp")
        {
            pair.Join(this, name, kind, text);
            return pair.Model;
        }
        if (text.Value == PartsLibrary.Ideal || scope.Library.Find(kind, text.Value) is not null)
            return scope.Library.Find(kind, text.Value);
        if (kind.Parameters.All(p => p.IsLimit || p.Word == "sigmas" || written.Contains(p.Word)))
            return null; // every parameter is written: the name is free
        sound = false;
        if (scope.BrokenPairs.Contains(text.Value))
            return null;
        IReadOnlyCollection<string> known = kind.Word is "npn" or "pnp"
            ? [.. scope.Library.Names(kind), .. scope.Pairs.Keys]
            : scope.Library.Names(kind);
        errors.Add(ErrorCodes.UnknownModel, text.At, $"{name}: no {kind.Word} {ErrorList.Quote(text.Value)} in the parts library",
            NearName.Of(text.Value, known) is { } near ? $"did you mean '{near}'?" : $"add it to parts.yaml with its data sheet, or write 'ideal'");
        return null;
    }

    /// <summary>Makes the transistor a member of its pair.</summary>
    /// <param name="member">1 or 2.</param>
    public void BecomeMember(PairInUse pair, int member)
    {
        texts["model"] = pair.ModelName;
        texts["pair"] = pair.Name;
        texts["member"] = member == 1 ? "1" : "2";
        foreach ((string word, double value) in pair.Numbers)
            if (word != "sigmas")
                numbers[word] = member == 2 ? value : 0;
        // The pair's own word on its spread counts for both halves, unless a half has one of its own.
        if (!written.Contains("spread"))
            texts["spread"] = pair.Spread;
        numbers.TryAdd("sigmas", pair.Numbers["sigmas"]);
    }

    private void CheckWay()
    {
        if (kind.Word != "selector" || !numbers.TryGetValue("value", out double way) || terminals.FreeCount == 0 || way <= terminals.FreeCount)
            return;
        sound = false;
        errors.Add(ErrorCodes.NoSuchWay, map.Entries[0].Value.At, $"{name}: way {way} of a selector with {terminals.FreeCount} ways",
            $"write a way from 1 to {terminals.FreeCount}, or add nets to 'ways'");
    }

    private void FillNumbers(LibraryEntry? model)
    {
        bool ideal = texts.GetValueOrDefault("model") == PartsLibrary.Ideal;
        foreach (ParameterSpec spec in kind.Parameters)
        {
            if (numbers.ContainsKey(spec.Word) || written.Contains(spec.Word))
                continue;
            if (model?.Numbers.TryGetValue(spec.Word, out double value) == true)
                numbers[spec.Word] = value;
            else if (((ideal ? spec.Ideal : null) ?? spec.Default) is { } otherwise)
                numbers[spec.Word] = otherwise;
            else
                MissingValue(spec.Word, Quantities.DimensionWords.Of(spec.Dimension).Example);
        }
        // Every transistor has a pair's words, so that all of a kind hold the same ones.
        if (kind.Word is "npn" or "pnp")
            foreach (ParameterSpec spec in PartKinds.Find("matched pair")!.Parameters)
                numbers.TryAdd(spec.Word, 0);
    }

    private void FillTexts(LibraryEntry? model)
    {
        foreach (TextSpec spec in kind.Texts)
        {
            if (texts.ContainsKey(spec.Word) || written.Contains(spec.Word) || spec.Word == "value")
                continue;
            if ((model?.Texts.GetValueOrDefault(spec.Word) ?? spec.Default) is { } text)
                texts[spec.Word] = text;
            else
                MissingValue(spec.Word, "...");
        }
    }

    private void MissingValue(string word, string example)
    {
        sound = false;
        errors.Add(ErrorCodes.MissingValue, at, $"{name}: a {kind.Word} needs its '{word}'", $"add '{word}: {example}'");
    }

    private string Example() =>
        kind.Main switch
        {
            MainValue.Model => "model",
            MainValue.Formula => "\"1e-3 * [net]\"",
            MainValue.Word => kind.Texts.First(t => t.Word == "value").Words is { IsEmpty: false } words ? words[0] : "name",
            _ => Quantities.DimensionWords.Of(kind.ValueDimension ?? Quantities.Dimension.Ratio).Example,
        };
}
