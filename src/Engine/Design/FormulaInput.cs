namespace Consort.Engine.Design;

/// <summary>Reads formulas out of a file and notes the nets that they read.</summary>
internal static class FormulaInput
{
    /// <summary>True for arithmetic, false for what should be a quantity.</summary>
    public static bool LooksLikeOne(string text) =>
        text.AsSpan().IndexOfAny("[(*^") >= 0 || (text.Trim() is "t" or "T" or "pi");

    /// <summary>The formula's text when it can be read; null, with an error, when not.</summary>
    public static string? Read(YamlText text, string name, CircuitScope scope)
    {
        (Formula? tree, FormulaFault? fault) = FormulaParser.Parse(text.Value);
        if (fault is not null)
        {
            scope.Errors.Add(ErrorCodes.BadFormula, Part(text, fault.Start, fault.Length), $"{name}: {fault.What}", fault.Mend);
            return null;
        }
        foreach (string net in tree!.Nets())
            scope.FormulaUses.Add(new(net, name, "formula", text.At, false));
        return text.Value;
    }

    // A piece of the text's place; the whole when the file's spelling differs from the text (escapes, folded lines).
    private static SourceSpan Part(YamlText text, int start, int length)
    {
        int quote = text.Quoted ? 1 : 0;
        bool literal = text.End - text.Start == text.Value.Length + (2 * quote) && text.At.Length == text.End - text.Start;
        return literal ? text.At with { Column = text.At.Column + quote + start, Length = Math.Max(1, length) } : text.At;
    }
}
