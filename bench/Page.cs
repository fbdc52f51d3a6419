using System.Text;

namespace Consort.Bench;

/// <summary>A page of results in Markdown; what is written also goes to the terminal as it comes.</summary>
internal sealed class Page(TextWriter terminal)
{
    private readonly StringBuilder text = new();

    /// <summary>A heading of the second level.</summary>
    public void Heading(string words)
    {
        if (text.Length < 2 || text[^2] != '\n')
            Line();
        Line($"## {words}");
    }

    /// <summary>A line as it stands.</summary>
    public void Line(string line = "")
    {
        text.Append(line).Append('\n');
        terminal.WriteLine(line);
    }

    /// <summary>A table; the first column reads from the left, the others are numbers.</summary>
    public void Table(IReadOnlyList<string> columns, IEnumerable<IReadOnlyList<string>> rows)
    {
        Line();
        Row(columns);
        Line("|---|" + string.Concat(Enumerable.Repeat("---:|", columns.Count - 1)));
        foreach (IReadOnlyList<string> row in rows)
            Row(row);
        Line();
    }

    /// <summary>Puts another page's text at the end of this one, without repeating it on the terminal.</summary>
    public void Append(Page other) => text.Append(other.text);

    public override string ToString() => text.ToString();

    private void Row(IEnumerable<string> cells) => Line("| " + string.Join(" | ", cells) + " |");
}
