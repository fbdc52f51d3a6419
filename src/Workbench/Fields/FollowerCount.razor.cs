using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Workbench.Session;

namespace Consort.Workbench.Fields;

/// <summary>Hangs one follower more or fewer on the link. Without parameters the screen around it would not draw it anew: it watches by itself.</summary>
public sealed partial class FollowerCount
{
    /// <inheritdoc/>
    protected override bool Differs(SessionState drawn, SessionState now) => TextsDiffer(drawn, now);

    // A design that was read before a mistake came into the texts says nothing of where things stand in them now.
    private Voice? Voice => State.Design is { } design && design.Revision == State.Revision ? design.Voice : null;

    private int Count => State.Design is { } design ? Followers.Of(design.Voice).Length : 0;

    private string? More => Written(FollowerText.More);

    private string? Fewer => Written(FollowerText.Fewer);

    private string? Written(Func<Voice, SourceText, string?> change) =>
        Voice is { } voice && State.Texts.Find(DesignTexts.VoiceFile) is { } source ? change(voice, source) : null;
}
