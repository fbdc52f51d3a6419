using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads the values of parts and library entries, with the units and limits of their kind.</summary>
/// <param name="who">Part or library entry, for messages.</param>
/// <param name="kind">Its kind.</param>
/// <param name="errors">Where mistakes go.</param>
internal sealed class ParameterReader(string who, PartKind kind, ErrorList errors)
{
    /// <summary>The value of a parameter; null, with an error, when it is none.</summary>
    public double? Number(ParameterSpec spec, YamlEntry entry)
    {
        if (Text(entry, DimensionWords.Of(spec.Dimension).Example) is not { } text)
            return null;
        double? value = Infinite(text.Value) ?? errors.Quantity(WithoutSign(text, spec), spec.Dimension, $"{who}: {entry.Key}", IsBare(spec));
        return value is { } number && ParameterRange.Fault(kind, spec, number) is { } fault ? Refuse(entry.Key, text, fault, spec.Dimension) : value;
    }

    /// <summary>The part's main value; null, with an error, when it is none.</summary>
    public double? Main(YamlText text)
    {
        Dimension dimension = kind.ValueDimension ?? Dimension.Ratio;
        // '56' of a capacitor would be 56 farads: there a multiplier has to say that a unit was only left out.
        bool bare = dimension == Dimension.Resistance || (dimension is Dimension.Capacitance or Dimension.Inductance && text.Value.Any(char.IsLetter));
        double? value = errors.Quantity(text, dimension, who, bare);
        return value is { } number && ParameterRange.MainFault(kind, number) is { } fault ? Refuse(kind.Word, text, fault, dimension) : value;
    }

    /// <summary>A word or free text; null, with an error, when it is none of the allowed words.</summary>
    public string? Word(TextSpec spec, YamlEntry entry)
    {
        if (Text(entry, spec.Words.IsEmpty ? "..." : spec.Words[0]) is not { } text)
            return null;
        if (spec.Words.IsEmpty || spec.Words.Contains(text.Value))
            return text.Value;
        errors.Add(ErrorCodes.UnknownWord, text.At, $"{who}: {entry.Key} cannot be {ErrorList.Quote(text.Value)}",
            NearName.Of(text.Value, spec.Words) is { } near ? $"did you mean '{near}'?" : $"one of: {string.Join(", ", spec.Words)}");
        return null;
    }

    /// <summary>An entry's text; null, with an error, when there is none.</summary>
    public YamlText? Text(YamlEntry entry, string example)
    {
        if (entry.Value is YamlText { IsNothing: false } text)
            return text;
        bool nothing = entry.Value is YamlText;
        errors.Add(nothing ? ErrorCodes.NoValue : ErrorCodes.WrongShape, nothing ? entry.KeyAt : entry.Value.At,
            nothing ? $"{who}: '{entry.Key}' has no value" : $"{who}: '{entry.Key}' is {entry.Value.Shape}, not a text",
            $"write '{entry.Key}: {example}'");
        return null;
    }

    // 'input resistance: 100k' says what it is; shares and counts have no unit.
    private static bool IsBare(ParameterSpec spec) =>
        Quantity.NeedsNoUnit(spec.Dimension) || (spec.Dimension == Dimension.Resistance && spec.Word.EndsWith("resistance", StringComparison.Ordinal));

    private static double? Infinite(string text) =>
        text switch
        {
            "infinite" => double.PositiveInfinity,
            "-infinite" => double.NegativeInfinity,
            _ => null,
        };

    // The trade writes limits with their sign: ±30 ppm/K.
    private static YamlText WithoutSign(YamlText text, ParameterSpec spec) =>
        spec.IsLimit && text.Value.StartsWith('±') ? text with { Value = text.Value[1..].TrimStart() } : text;

    private double? Refuse(string word, YamlText text, string fault, Dimension dimension)
    {
        errors.Add(ErrorCodes.OutOfRange, text.At, $"{who}: {word} {ErrorList.Quote(text.Value)} {fault}",
            kind.Word == "selector" && word == kind.Word ? "write 1 for the first way" : $"mind sign and multiplier: {DimensionWords.Of(dimension).Name} is written as {DimensionWords.Of(dimension).Example}");
        return null;
    }
}
