using Consort.Engine.Design;
using Consort.Workbench.Session;

namespace Consort.Workbench.Screens.Voice;

/// <summary>Adds a module of a design that lies in the folder. Without parameters the screen around it would not draw it anew: it watches by itself.</summary>
public sealed partial class ModuleAdder
{
    private string design = "";
    private string name = "";
    private string? link;

    /// <inheritdoc/>
    protected override bool Differs(SessionState drawn, SessionState now) => TextsDiffer(drawn, now);

    private IEnumerable<string> Designs => Session.State.Texts.Modules.Select(module => module.Name);

    // Modules, players and multiples share one set of names.
    private bool IsTaken => new[] { "modules", "players", "multiples" }.Any(key => new TextPlace(DesignTexts.VoiceFile, key, name.Trim()).Node(Session.State.Texts) is not null);

    private string[] Leads => [.. LinkText.Leads(Session.State.Texts)];

    // The header by which the new one hangs on a link; null for a module that hangs on none.
    private string? Hanging => design.Length == 0 ? null : LinkText.Headers(Session.State.Texts, design).Where(header => header.Role == "follower").Select(header => header.Name).FirstOrDefault();

    // A follower that hangs on nothing is a mistake in the voice: the first link is taken until another is chosen.
    private string Link
    {
        get => link is not null && (link.Length == 0 || Leads.Contains(link)) ? link : Leads.FirstOrDefault() ?? "";
        set => link = value;
    }

    private string? Text =>
        design.Length > 0 && name.Trim().Length > 0 && !IsTaken && Session.State.Texts.Find(DesignTexts.VoiceFile) is { } source && MemberText.More(source, name.Trim(), design) is { } text ? Hung(text) : null;

    private string? Hung(string text) =>
        Hanging is { } header && Link.Length > 0 ? LinkText.HangOn(SourceText.Of(text, DesignTexts.VoiceFile), Link, $"{name.Trim()}/{header}", NewRibbon) : text;

    private const string NewRibbon = "20 cm"; // between neighbours; its length is a field of the table

    private void Add()
    {
        Session.RewriteVoice(Text);
        (design, name, link) = ("", "", null);
    }
}
