namespace Consort.Cli.Printing;

/// <summary>One line on the terminal's error stream that says how far the work is; nothing where there is no terminal.</summary>
internal sealed class ProgressLine(Screen screen) : IProgress<(string Stage, double Done)>, IDisposable
{
    private readonly Lock gate = new();
    private string shown = "";

    /// <inheritdoc/>
    public void Report((string Stage, double Done) value)
    {
        if (!screen.ShowsProgress)
            return;
        string text = $"{100 * Math.Clamp(value.Done, 0, 1):0} %  {value.Stage}";
        text = text[..Math.Min(text.Length, screen.Width - 1)];
        lock (gate)
        {
            if (text == shown)
                return;
            screen.Error.Write($"\r{text.PadRight(shown.Length)}");
            shown = text;
        }
    }

    /// <summary>Wipes the line.</summary>
    public void Dispose()
    {
        lock (gate)
        {
            if (shown.Length > 0)
                screen.Error.Write($"\r{new string(' ', shown.Length)}\r");
            shown = "";
        }
    }
}
