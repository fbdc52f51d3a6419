using Consort.Engine.Design;
using Consort.Workbench.Session;

namespace Consort.Workbench.Screens.Voice;

/// <summary>Plugs a cord from one free jack into another. Without parameters the screen around it would not draw it anew: it watches by itself.</summary>
public sealed partial class CordAdder
{
    private string from = "";
    private string to = "";
    private string length = "60 cm";

    /// <inheritdoc/>
    protected override bool Differs(SessionState drawn, SessionState now) => TextsDiffer(drawn, now);

    private string[] Sources => [.. Free(face => face is JackFace.Output or JackFace.Shared)];

    private string[] Goals => [.. Free(face => face is JackFace.Input or JackFace.Shared)];

    // A design that was read before a mistake came into the texts says nothing of what is plugged now.
    private IEnumerable<string> Free(Func<JackFace, bool> fits)
    {
        if (Session.State is not { Design: { } design } state || design.Revision != state.Revision)
            return [];
        JackBook book = new(design.Voice.Members, design.Voice.Players, design.Voice.Multiples);
        HashSet<JackName> plugged = [.. design.Voice.Cords.SelectMany(cord => new[] { cord.From, cord.To })];
        return from owner in book.Owners
               from label in book.Labels(owner)
               let jack = new JackName(owner, label)
               where !plugged.Contains(jack) && fits(book.Face(jack)!.Value)
               select jack.ToString();
    }

    private void PlugIn()
    {
        Session.RewriteVoice(Session.State.Texts.Find(DesignTexts.VoiceFile) is { } source ? PatchText.PlugIn(source, from, to, length.Trim()) : null);
        (from, to) = ("", "");
    }
}
