using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Expected;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents.Packs;

/// <summary>The check sheet: every octave of every oscillator with its target, its tolerance, and room for the reading.</summary>
internal static class GuideCheck
{
    private const double Row = 6; // mm: room to write in
    private const double Head = 20; // mm of an oscillator's name and the table's titles

    public static void Write(PaperFlow flow, PackContent content)
    {
        if (content.Trims.IsEmpty)
            return;
        Limits limits = content.Voice.Limits;
        flow.Chapter("Check sheet");
        flow.Say(string.Create(CultureInfo.InvariantCulture, $"Trimmed, warm, patched as it will be played. Within ±{limits.TrackingCents:0.##} cents from {limits.LowestVoltage:0.##} V over {limits.Octaves:0.##} octaves; other notes are for information. 'consort measure' reads recordings of these notes and compares them with the design."));
        double[] asked = Prover.BudgetNotes(content.Voice), notes = Prover.Notes(content.Voice);
        foreach (TrimTable sheet in content.Trims)
        {
            flow.Keep(Head + (notes.Length * Row)).Heading($"{sheet.Oscillator.Name} ({sheet.Oscillator.Member.Module.Name}), serial ____________");
            flow.Table(
                [new("control", 20, true), new("target", 26, true), new("within", 44, true), new("measured", 40), new("cents", 24), new("ok", 10)],
                notes.Select(volts => Line(sheet.Oscillator, volts, asked.Any(note => Math.Abs(note - volts) < 1e-9) ? limits.TrackingCents : double.NaN)),
                least: Row
            );
        }
    }

    private static ImmutableArray<string> Line(Oscillator oscillator, double volts, double cents)
    {
        double hertz = oscillator.IdealHertz(volts);
        return [string.Create(CultureInfo.InvariantCulture, $"{volts:0.000} V"), GuideTrims.Hertz(hertz), double.IsNaN(cents) ? "" : GuideTrims.Window(hertz, cents), "", "", double.IsNaN(cents) ? "" : "☐"];
    }
}
