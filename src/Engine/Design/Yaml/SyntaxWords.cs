namespace Consort.Engine.Design;

/// <summary>Turns the YAML parser's messages into the words of a maker.</summary>
internal static class SyntaxWords
{
    /// <summary>What is wrong, and the likeliest mend.</summary>
    public static (string What, string Mend) For(string message, SourceText source, int line)
    {
        string text = source.Line(line);
        if (text.Length > 0 && text.TrimStart(' ').StartsWith('\t'))
            return ("a tab stands where YAML wants spaces", "indent with spaces");
        if (message.Contains("simple key", StringComparison.Ordinal) || message.Contains("expected ':'", StringComparison.Ordinal))
            return ("a name without its colon", "write 'name: value', with a space after the colon");
        if (message.Contains("flow", StringComparison.Ordinal))
            return ("a bracket or brace is not closed, or a comma is missing", "see that every { has its } and every [ its ]");
        if (message.Contains("quoted scalar", StringComparison.Ordinal))
            return ("a quote is not closed", "close it on the same line");
        if (message.Contains("Mapping values are not allowed", StringComparison.Ordinal))
            return ("a second colon in one entry", "put the text in quotes, or begin a new line");
        if (message.Contains("block", StringComparison.Ordinal))
            return ("the indentation does not fit what stands above", "give entries of one map the same indentation");
        if (message.Contains("cannot start any token", StringComparison.Ordinal))
            return ("a character that cannot begin a text", "put the text in quotes");
        return ($"not YAML: {message.TrimEnd('.')}", "look at indentation, brackets and quotes");
    }
}
