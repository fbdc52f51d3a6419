using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Voice;

/// <summary>A whole text, to be changed by hand. A browser's box has plain line ends; the file keeps its own.</summary>
public sealed partial class TextBox
{
    /// <summary>The file's name in the folder.</summary>
    [Parameter, EditorRequired]
    public string File { get; set; } = "";

    /// <inheritdoc/>
    protected override bool Differs(SessionState drawn, SessionState now) => TextsDiffer(drawn, now);

    private string? Text => State.Texts.Find(File)?.Text;

    private void Change(ChangeEventArgs change)
    {
        string text = (change.Value?.ToString() ?? "").ReplaceLineEndings("\n");
        bool hasReturns = Text?.Contains("\r\n", StringComparison.Ordinal) == true;
        Session.Rewrite(File, hasReturns ? text.ReplaceLineEndings("\r\n") : text);
    }
}
