using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>One change of one text, small enough to keep thousands of them.</summary>
/// <param name="File">Its name in the folder.</param>
/// <param name="Start">Where it begins, characters.</param>
/// <param name="Removed">What stood there.</param>
/// <param name="Inserted">What stands there now.</param>
internal sealed record TextEdit(string File, int Start, string Removed, string Inserted)
{
    /// <summary>The change from one text to another: all between what they share at both ends.</summary>
    public static TextEdit Between(string file, string before, string after)
    {
        int start = before.AsSpan().CommonPrefixLength(after);
        int most = Math.Min(before.Length, after.Length) - start, end = 0;
        while (end < most && before[^(end + 1)] == after[^(end + 1)])
            end++;
        return new(file, start, before[start..^end], after[start..^end]);
    }

    /// <summary>The other way round.</summary>
    public TextEdit Back() => new(File, Start, Inserted, Removed);

    /// <summary>The texts after it; the same when the file is gone or no longer holds what it changes.</summary>
    public DesignTexts On(DesignTexts texts)
    {
        if (texts.Find(File) is not { } source || !source.Text.AsSpan(Math.Min(Start, source.Text.Length)).StartsWith(Removed, StringComparison.Ordinal))
            return texts;
        string text = string.Concat(source.Text.AsSpan(0, Start), Inserted, source.Text.AsSpan(Start + Removed.Length));
        return texts.With(Renewed(source, text));
    }

    /// <summary>Another text in a file's place; a byte order mark stays.</summary>
    public static SourceText Renewed(SourceText source, string text) => SourceText.Of(source.HadByteOrderMark ? '\uFEFF' + text : text, source.File);
}
