using System.Globalization;

namespace Consort.Engine.Quantities;

/// <summary>Why a text is not the quantity that was asked.</summary>
public enum QuantityFaultKind
{
    /// <summary>No value at all, or one that cannot be told.</summary>
    NotAQuantity,
    /// <summary>A number that needs its unit.</summary>
    NoUnit,
    /// <summary>A value of another kind.</summary>
    OtherDimension,
}

/// <summary>What is wrong with a text that should be a quantity, and how to mend it.</summary>
public sealed record QuantityFault(QuantityFaultKind Kind, string What, string Mend);

/// <summary>
/// Reads quantities as the trade writes them: <c>4k7</c>, <c>4.7k</c>, <c>R47</c>, <c>12 V</c>, <c>0.1%</c>,
/// <c>25 ppm/K</c>, <c>18 nV/√Hz</c>. Codes with the multiplier in the point's place follow IEC 60062. The value is the
/// double nearest to the decimal number written, whatever its multiplier.
/// </summary>
public static class Quantity
{
    /// <summary>Reads one quantity; false with a fault when the text is none of that dimension.</summary>
    /// <param name="text">As it stands in the file.</param>
    /// <param name="dimension">What it should measure.</param>
    /// <param name="bare">True where a number without unit is enough (the kind of value is plain from the part).</param>
    /// <param name="value">In SI units (temperatures in kelvin, intervals in cents).</param>
    /// <param name="fault">What is wrong, or null.</param>
    public static bool TryRead(string text, Dimension dimension, bool bare, out double value, out QuantityFault? fault)
    {
        value = double.NaN;
        string plain = Units.Plain(text).Trim();
        QuantityPieces pieces = QuantityPieces.Split(plain);
        if (pieces.Digits.Length == 0)
        {
            fault = NotAny(text, dimension);
            return false;
        }
        fault = Resolve(text, dimension, bare, pieces, out Unit unit);
        if (fault is not null)
            return false;
        value = Value(pieces, unit);
        if (!double.IsFinite(value))
            fault = new(QuantityFaultKind.NotAQuantity, $"{Quote(text)} is too large a number", $"write it as {DimensionWords.Of(dimension).Example}");
        return fault is null;
    }

    /// <summary>The quantity, or null.</summary>
    public static double? Read(string text, Dimension dimension, bool bare = false) =>
        TryRead(text, dimension, bare, out double value, out _) ? value : null;

    /// <summary>True for dimensions whose bare number always says enough: shares, counts, prices.</summary>
    public static bool NeedsNoUnit(Dimension dimension) => DimensionWords.Of(dimension).Unit.Length == 0;

    private static double Value(QuantityPieces pieces, Unit unit) =>
        pieces.Unit == "dB"
            ? Math.Pow(10, Nearest(pieces.Digits, 0) / 20)
            : (Nearest(pieces.Digits, pieces.Exponent + unit.Exponent) * unit.Scale) + unit.Offset;

    private static QuantityFault? Resolve(string text, Dimension dimension, bool bare, QuantityPieces pieces, out Unit unit)
    {
        string rest = pieces.Unit;
        unit = new(dimension, 0);
        bool enough = bare || NeedsNoUnit(dimension);
        if (rest.Length == 0)
            return enough ? null : NoUnit(text, dimension);
        if (Units.Find(rest, dimension) is { } found)
        {
            unit = found;
            return pieces.Coded && found.Exponent != 0 ? NotAny(text, dimension) : null;
        }
        if (rest == "dB" && dimension == Dimension.Ratio)
            return null;
        if (Units.Multiplier(rest) is { } multiplier && dimension != Dimension.Money && !pieces.Coded)
        {
            unit = unit with { Exponent = multiplier };
            return enough ? null : NoUnit(text, dimension);
        }
        return Units.Elsewhere(rest) is { } other ? Other(text, dimension, other) : NotAny(text, dimension, rest);
    }

    private static double Nearest(string digits, int exponent)
    {
        int split = digits.AsSpan().IndexOfAny('e', 'E');
        if (split >= 0)
        {
            exponent += int.TryParse(digits[(split + 1)..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int own) ? own : 100_000;
            digits = digits[..split];
        }
        return double.Parse($"{digits}e{exponent}", NumberStyles.Float, CultureInfo.InvariantCulture);
    }

    private static QuantityFault NotAny(string text, Dimension dimension, string rest = "")
    {
        DimensionWords words = DimensionWords.Of(dimension);
        string mend = HasDecimalComma(text) ? $"use a decimal point: {text.Replace(',', '.')}"
            : Units.OtherCapitals(rest, dimension) is { } unit ? $"units mind capitals: {unit}"
            : dimension is Dimension.Resistance or Dimension.Capacitance or Dimension.Inductance ? $"use one multiplier, as {words.Example}"
            : $"write it as {words.Example}";
        return new(QuantityFaultKind.NotAQuantity, $"{Quote(text)} is not {words.Name}", mend);
    }

    private static QuantityFault NoUnit(string text, Dimension dimension)
    {
        DimensionWords words = DimensionWords.Of(dimension);
        string sample = char.IsAsciiLetter(text[^1]) && words.Unit.Length <= 2 ? $"{text}{words.Unit}" : $"{text} {words.Unit}";
        return new(QuantityFaultKind.NoUnit, $"{Quote(text)} has no unit, where {words.Name} is asked", $"add the unit, as {sample}");
    }

    private static QuantityFault Other(string text, Dimension asked, Dimension found) =>
        new(QuantityFaultKind.OtherDimension,
            $"{Quote(text)} is {DimensionWords.Of(found).Name}, not {DimensionWords.Of(asked).Name}",
            $"write {DimensionWords.Of(asked).Name}, as {DimensionWords.Of(asked).Example}");

    private static string Quote(string text) => text.Length > 40 ? $"'{text[..37]}...'" : $"'{text}'";

    private static bool HasDecimalComma(string text)
    {
        int comma = text.IndexOf(',', StringComparison.Ordinal);
        return comma > 0 && comma + 1 < text.Length && char.IsAsciiDigit(text[comma - 1]) && char.IsAsciiDigit(text[comma + 1]);
    }
}
