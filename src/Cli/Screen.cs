using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace Consort.Cli;

/// <summary>Where a verb writes: results to one writer, all else to the other.</summary>
/// <param name="Output">Results.</param>
/// <param name="Error">Errors and progress.</param>
/// <param name="Width">Columns that a table may take.</param>
/// <param name="IsColoured">True when results go to a terminal that shows styles.</param>
/// <param name="ShowsProgress">True when errors go to a terminal.</param>
internal sealed record Screen(TextWriter Output, TextWriter Error, int Width, bool IsColoured, bool ShowsProgress)
{
    /// <summary>Columns of a table that goes into a file or another program.</summary>
    public const int PlainWidth = 100;

    /// <summary>Writes a table or text without spaces at the ends of lines.</summary>
    public void Write(IRenderable content)
    {
        using StringWriter text = new();
        IAnsiConsole console = AnsiConsole.Create(
            new()
            {
                Ansi = IsColoured ? AnsiSupport.Yes : AnsiSupport.No,
                ColorSystem = IsColoured ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
                Interactive = InteractionSupport.No,
                Out = new AnsiConsoleOutput(text),
            }
        );
        console.Profile.Width = Width;
        console.Write(content);
        foreach (string line in text.ToString().ReplaceLineEndings("\n").TrimEnd('\n').Split('\n'))
            Line(line.TrimEnd());
    }

    /// <summary>One line of a result. Lines end in a line feed on every system, so that results compare.</summary>
    public void Line(string text = "")
    {
        Output.Write(text);
        Output.Write('\n');
    }

    /// <summary>One line of an error.</summary>
    public void Complain(string text)
    {
        Error.Write(text);
        Error.Write('\n');
    }

    /// <summary>Why nothing could be computed of a folder.</summary>
    public void Complain(string folder, Unproved? failure) => Complain($"{folder}: {failure?.What}\n  mend: {failure?.Mend}");

    /// <summary>All messages about the input, and how many there were when they fill more than a glance.</summary>
    public void Complain(IReadOnlyCollection<InputError> messages)
    {
        foreach (InputError message in messages)
            Complain(message.Render());
        int mistakes = messages.Count(message => !message.IsNote);
        if (mistakes > 1)
            Complain($"{mistakes} errors");
    }

    /// <summary>True when a file was written; else says why not.</summary>
    public bool Wrote(string file, Action write)
    {
        try
        {
            write();
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Complain($"{file}: it could not be written: {e.Message}\n  mend: name a file in a folder that exists and may be written");
            return false;
        }
    }

    /// <summary>A row of plain texts: brackets in a name are brackets, not the library's markup.</summary>
    public static void Row(Table table, params IEnumerable<string> cells) => table.AddRow(cells.Select(cell => new Text(cell)));

    /// <summary>A table without rules: columns stand two spaces apart, on a terminal and in a file alike.</summary>
    public static Table Columns(params (string Title, bool IsNumber)[] columns)
    {
        Table table = new() { Border = TableBorder.None, ShowHeaders = columns.Any(column => column.Title.Length > 0) };
        foreach ((string title, bool isNumber) in columns)
        {
            TableColumn column = new(new Text(title, new Style(decoration: Decoration.Bold))) { Padding = new(0, 0, 2, 0) };
            table.AddColumn(isNumber ? column.RightAligned().NoWrap() : column);
        }
        return table;
    }
}
