using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Fields;

/// <summary>Hangs one follower more or fewer on the link. Drawn with the screen around it.</summary>
public sealed partial class FollowerCount
{
    [Inject]
    private VoiceSession Session { get; set; } = null!;

    private SessionState State => Session.State;

    // A design that was read before a mistake came into the texts says nothing of where things stand in them now.
    private Voice? Voice => State.Design is { } design && design.Revision == State.Revision ? design.Voice : null;

    private int Count => State.Design is { } design ? Followers.Of(design.Voice).Length : 0;

    private string? More => Written(FollowerText.More);

    private string? Fewer => Written(FollowerText.Fewer);

    private string? Written(Func<Voice, SourceText, string?> change) =>
        Voice is { } voice && State.Texts.Find(DesignTexts.VoiceFile) is { } source ? change(voice, source) : null;
}
