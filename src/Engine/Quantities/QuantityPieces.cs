namespace Consort.Engine.Quantities;

/// <summary>A quantity's text in its pieces: <c>4k7</c> is 4.7, 3, "", coded; <c>12 mV</c> is 12, 0, "mV".</summary>
/// <param name="Digits">The decimal number; empty when there is none.</param>
/// <param name="Exponent">Power of ten from a multiplier in the point's place.</param>
/// <param name="Unit">What follows, without spaces.</param>
/// <param name="Coded">True when the multiplier stood in the point's place (IEC 60062).</param>
internal readonly record struct QuantityPieces(string Digits, int Exponent, string Unit, bool Coded)
{
    private const string CodeLetters = "RLFHVTGMkKmunpf";

    private static readonly QuantityPieces None = new("", 0, "", false);

    /// <summary>Splits a text in which <see cref="Units.Plain(string)"/> has unified the characters.</summary>
    public static QuantityPieces Split(string plain)
    {
        if (plain.Length is 0 or > 60)
            return None;
        int start = plain[0] is '+' or '-' ? 1 : 0;
        int whole = Digit(plain, start);
        return whole + 1 < plain.Length && CodeLetters.Contains(plain[whole]) && char.IsAsciiDigit(plain[whole + 1])
            ? Code(plain, start, whole)
            : Number(plain, start, whole);
    }

    private static QuantityPieces Code(string plain, int start, int letter)
    {
        int end = Digit(plain, letter + 1);
        string unit = plain[end..].TrimStart(' ');
        if (unit.Any(c => !char.IsAsciiLetter(c)))
            return None;
        string digits = $"{plain[..start]}0{plain[start..letter]}.{plain[(letter + 1)..end]}";
        return new(digits, CodeExponent(plain[letter]), unit.Length > 0 ? unit : CodeUnit(plain[letter]), true);
    }

    private static QuantityPieces Number(string plain, int start, int whole)
    {
        int end = whole < plain.Length && plain[whole] == '.' ? Digit(plain, whole + 1) : whole;
        if (end - start - (end > whole ? 1 : 0) == 0)
            return None; // a sign or a point without a digit
        end = Exponential(plain, end);
        string unit = plain[end..].Replace(" ", "");
        return unit.StartsWith('.') ? None : new(plain[..end], 0, unit, false);
    }

    private static int Exponential(string plain, int at)
    {
        if (at >= plain.Length || plain[at] is not ('e' or 'E'))
            return at;
        int digits = at + 1 < plain.Length && plain[at + 1] is '+' or '-' ? at + 2 : at + 1;
        int end = Digit(plain, digits);
        return end > digits ? end : at;
    }

    private static int Digit(string text, int at)
    {
        while (at < text.Length && char.IsAsciiDigit(text[at]))
            at++;
        return at;
    }

    private static int CodeExponent(char letter) =>
        letter switch
        {
            'L' => -3, // IEC 60062 writes milliohms with L, since m and M look alike in print
            'R' or 'F' or 'H' or 'V' => 0,
            _ => Units.Multiplier(letter.ToString()) ?? 0,
        };

    private static string CodeUnit(char letter) =>
        letter switch
        {
            'F' or 'H' or 'V' => letter.ToString(),
            'R' or 'L' => "ohm",
            _ => "",
        };
}
