using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Response;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Response;

using Voice = Engine.Design.Voice; // and not the screen's folder

/// <summary>What does it do when it is modulated?</summary>
public sealed partial class ResponseScreen
{
    private ImmutableArray<WordFault> faults = [];
    private string play = "", set = "";

    [Inject]
    private ResponseWork Response { get; set; } = null!;

    private LongWorkState<ResponseAsk, ResponseBook>? Work { get; set; }

    /// <inheritdoc/>
    protected override void Look()
    {
        base.Look();
        Work = Response.Work.State;
    }

    private ResponseBook? Book => Work?.Result;

    private bool IsOld => Work?.Revision != State.Revision;

    private string? Sheet => Selection.Word("sheet");

    private static IEnumerable<string> Oscillators(Voice voice) =>
        voice.Members.Where(member => member.Module.Pitch is not null && member.Module.Sheet is null).Select(member => member.Name);

    private void Read(ReadDesign design)
    {
        ResponseAsk ask = new(Selection.Oscillator, Sheet, play, set, Selection.Kelvin);
        (_, faults) = ask.Understand(design.Voice);
        if (faults.IsEmpty)
            Response.Work.Ask(ask);
    }
}
