using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Documents.Panels;

/// <summary>One module's panel: its drawing and what a check of it finds.</summary>
/// <param name="Module">The module.</param>
/// <param name="Drawing">Its geometry.</param>
/// <param name="Findings">Rules that it breaks, and notes, with their places in the file.</param>
public sealed record CheckedPanel(Module Module, PanelDrawing Drawing, ImmutableArray<InputError> Findings)
{
    /// <summary>True when nothing but notes was found.</summary>
    public bool Passes => Findings.All(finding => finding.IsNote);
}

/// <summary>The panels of a voice.</summary>
/// <param name="Panels">One for each module that has places on its panel, in panel order.</param>
/// <param name="Without">Modules whose panel gives no places: why nothing was drawn.</param>
public sealed record PanelSet(ImmutableArray<CheckedPanel> Panels, ImmutableArray<InputError> Without)
{
    /// <summary>Draws and checks the panels of a voice.</summary>
    /// <param name="sources">The text of a file by its name in the folder, for messages; null where it cannot be had.</param>
    public static PanelSet Of(Voice voice, Func<string, SourceText?> sources)
    {
        ImmutableArray<CheckedPanel>.Builder panels = ImmutableArray.CreateBuilder<CheckedPanel>();
        ErrorList without = new();
        foreach (Module module in voice.Members.Select(member => member.Module).Where(module => module.Sheet is null).DistinctBy(module => module.At.File))
        {
            ErrorList findings = new();
            if (sources(module.At.File) is { } source)
            {
                findings.Knows(source);
                without.Knows(source);
            }
            if (module.Panel.Layout is null)
            {
                without.Note(ErrorCodes.NoLayout, module.At, $"the panel of {ErrorList.Quote(module.Name)} has no places, so there is nothing to draw",
                    "add 'places: {J1: {at: [10 mm, 100 mm]}}' to its 'panel', one for each control and jack");
                continue;
            }
            new PanelCheck(module, findings).Run();
            panels.Add(new(module, new PanelArtist(module).Draw(), findings.InOrder()));
        }
        return new(panels.ToImmutable(), without.InOrder());
    }
}
