using System.Globalization;
using System.Text;

namespace Consort.Engine.Design;

/// <summary>One mistake in the input: what is wrong, where, and how to mend it. Codes never change their meaning.</summary>
/// <param name="Code">C followed by three digits; listed in docs/errors.md.</param>
/// <param name="At">Where it stands.</param>
/// <param name="What">What is wrong, in one line.</param>
/// <param name="Mend">How to mend it, in one line.</param>
/// <param name="SourceLine">The text of the line, for the caret display; empty when there is none.</param>
public sealed record InputError(string Code, SourceSpan At, string What, string Mend, string SourceLine = "")
{
    /// <summary>True for what is odd but harms nothing (a module that no voice uses): it is told, and work goes on.</summary>
    public bool IsNote { get; init; }

    private const int Widest = 110; // a source line longer than this is shown as a window around the caret

    /// <summary>The error as it is printed: place and words, the source line, carets, how to mend it.</summary>
    public string Render()
    {
        StringBuilder text = new();
        text.Append(Place()).Append(IsNote ? "note " : "error ").Append(Code).Append(": ").Append(Clean(What)).Append('\n');
        if (At.Line > 0 && SourceLine.Length > 0)
            AppendSource(text);
        return text.Append("  mend: ").Append(Clean(Mend)).ToString();
    }

    private string Place() =>
        At.File.Length == 0 ? ""
        : At.Line == 0 ? $"{Clean(At.File)}: "
        : string.Create(CultureInfo.InvariantCulture, $"{Clean(At.File)}:{At.Line}:{At.Column}: ");

    private void AppendSource(StringBuilder text)
    {
        (string shown, int column) = Window(Clean(SourceLine), Math.Clamp(At.Column, 1, SourceLine.Length + 1));
        string number = At.Line.ToString(CultureInfo.InvariantCulture);
        int carets = Math.Clamp(At.Length, 1, Math.Max(1, shown.Length - column + 1));
        text.Append("  ").Append(number).Append(" | ").Append(shown.TrimEnd()).Append('\n');
        text.Append(' ', number.Length + 2).Append(" | ").Append(' ', column - 1).Append('^', carets).Append('\n');
    }

    private static (string Shown, int Column) Window(string line, int column)
    {
        if (line.Length <= Widest)
            return (line, column);
        int start = Math.Max(0, Math.Min(column - 1 - (Widest / 3), line.Length - Widest));
        return (line.Substring(start, Math.Min(Widest, line.Length - start)), column - start);
    }

    // A control character in a file must not reach the terminal: it could move the cursor or worse.
    private static string Clean(string text) =>
        text.AsSpan().ContainsAnyInRange('\0', '\u001F') || text.AsSpan().ContainsAnyInRange('\u007F', '\u009F')
            ? string.Concat(text.Select(c => c == '\t' ? ' ' : char.IsControl(c) ? '\uFFFD' : c))
            : text;
}
