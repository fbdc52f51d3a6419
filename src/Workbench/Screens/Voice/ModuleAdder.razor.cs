using Consort.Engine.Design;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Voice;

/// <summary>Adds a module of a design that lies in the folder. Drawn with the screen around it.</summary>
public sealed partial class ModuleAdder
{
    private string design = "";
    private string name = "";

    [Inject]
    private VoiceSession Session { get; set; } = null!;

    private IEnumerable<string> Designs => Session.State.Texts.Modules.Select(module => module.Name);

    // Modules, players and multiples share one set of names.
    private bool IsTaken => new[] { "modules", "players", "multiples" }.Any(key => new TextPlace(DesignTexts.VoiceFile, key, name.Trim()).Node(Session.State.Texts) is not null);

    private string? Text =>
        design.Length > 0 && name.Trim().Length > 0 && !IsTaken && Session.State.Texts.Find(DesignTexts.VoiceFile) is { } source ? MemberText.More(source, name.Trim(), design) : null;

    private void Add()
    {
        Session.RewriteVoice(Text);
        (design, name) = ("", "");
    }
}
