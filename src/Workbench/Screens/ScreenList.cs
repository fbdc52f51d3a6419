using Consort.Workbench.Files;
using Consort.Workbench.Screens.Measure;
using Consort.Workbench.Screens.Response;
using Consort.Workbench.Screens.Sound;
using Consort.Workbench.Screens.Wiring;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Consort.Workbench.Screens;

/// <summary>One screen of the workbench.</summary>
/// <param name="Path">Its address, and the name of its folder: a component there bears <c>@page "/PATH"</c>.</param>
/// <param name="Title">Its name in the list.</param>
/// <param name="Question">What it answers.</param>
public sealed record ScreenEntry(string Path, string Title, string Question)
{
    /// <summary>Addresses that it answers beside its page: files to export, streams; null for none.</summary>
    public Action<IEndpointRouteBuilder>? Map { get; init; }

    /// <summary>What it keeps beside the session: one for all tabs (singleton), or one a tab (scoped); null for nothing.</summary>
    public Action<IServiceCollection>? Add { get; init; }
}

/// <summary>The screens, in the order of the list. A new one is a folder beside this file and a line here.</summary>
public static class ScreenList
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<ScreenEntry> All { get; } =
    [
        new("voice", "Voice", "What is in it, and with what values?"),
        new("tracking", "Tracking", "Does it play in tune, and if not, why not?"),
        new("builds", "Builds", "What do builds of real parts do?"),
        new("chain", "Chain", "How many followers can hang on the lead, and what fails first?"),
        new("wiring", "Wiring", "What does each way of wiring take?") { Add = WiringWork.Add },
        new("scope", "Oscilloscope", "What does it look like?") { Add = FileShelf.Add, Map = FileShelf.Map },
        new("response", "Response", "What does it do when it is modulated?") { Add = ResponseWork.Add },
        new("sound", "Sound", "What does it sound like?") { Add = SoundStream.Add, Map = SoundStream.Map },
        new("panel", "Panel", "What do the panels look like, and can they be made?"),
        new("parts", "Parts", "What is to be bought, and what does it cost?"),
        new("pack", "Pack", "What does a customer build from?"),
        new("measure", "Measure", "What does a built unit do?") { Add = MeasureScreen.Add },
        new("changes", "Changes", "What will saving write?"),
    ];
}
