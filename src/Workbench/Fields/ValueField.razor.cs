using Consort.Engine.Design;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Fields;

/// <summary>One value of a text, as it is written there; what is wrong with it stands beside it.</summary>
public sealed partial class ValueField
{
    private const int Widest = 22;

    private string? refusal;
    private string? typed; // what a person wrote and the text would not take

    // Drawn with the screen around it: a screen has hundreds of these, and none watches the session by itself.
    [Inject]
    private VoiceSession Session { get; set; } = null!;

    private SessionState State => Session.State;

    /// <summary>Where it stands.</summary>
    [Parameter, EditorRequired]
    public TextPlace Place { get; set; } = null!;

    /// <summary>What it is, for those who do not see the table around it: <c>R3 tolerance</c>.</summary>
    [Parameter, EditorRequired]
    public string Label { get; set; } = "";

    /// <summary>True when it may be written where nothing stands yet.</summary>
    [Parameter]
    public bool MayAdd { get; set; }

    /// <summary>What holds where nothing is written.</summary>
    [Parameter]
    public string? Otherwise { get; set; }

    /// <summary>The id of a list of values to choose from; null for none.</summary>
    [Parameter]
    public string? Choices { get; set; }

    private string? Text => Place.In(State.Texts);

    private int Size => Math.Clamp((Text ?? Otherwise ?? "").Length + 1, 6, Widest);

    private string Id => "e-" + string.Concat($"{Place.File}/{string.Join('/', Place.Path)}".Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-'));

    private string? Error => Place.Span(State.Texts) is { } span ? State.Errors.FirstOrDefault(error => !error.IsNote && Touches(error.At, span))?.What : null;

    private static bool Touches(SourceSpan error, SourceSpan value) =>
        error.File == value.File && error.Line == value.Line && error.Column < value.Column + value.Length && value.Column < error.Column + error.Length;

    private void Change(ChangeEventArgs change)
    {
        string value = change.Value?.ToString()?.Trim() ?? "";
        refusal = value == Text ? null : Session.Set(Place, value);
        typed = refusal is null ? null : value;
    }
}
