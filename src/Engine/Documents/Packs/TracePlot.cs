using System.Globalization;
using Consort.Engine.Documents.Files;
using Consort.Engine.Scope;

namespace Consort.Engine.Documents.Packs;

/// <summary>Traces of a sweep as a black line drawing: one strip each, with divisions.</summary>
internal static class TracePlot
{
    private const double Name = 34, Across = 130, Strip = 22, Top = 12, Between = 3;

    private const int MostOnSheet = 9; // strips on a page

    /// <summary>A sweep of many traces in as few sheets as hold it, filled alike.</summary>
    public static IEnumerable<ScopeRecord> Sheets(ScopeRecord? record)
    {
        if (record is null)
            yield break;
        int sheets = (record.Traces.Length + MostOnSheet - 1) / MostOnSheet;
        foreach (Trace[] part in record.Traces.Chunk((record.Traces.Length + sheets - 1) / sheets))
            yield return record with { Traces = [.. part] };
    }

    public static LineArt Draw(ScopeRecord record, string title)
    {
        LineArt art = new(title, Name + Across + 8, Top + (record.Traces.Length * (Strip + Between)) + 8);
        art.Text(title, 0, 6, 3.6, bold: true);
        for (int i = 0; i < record.Traces.Length; i++)
            Draw(art, record, record.Traces[i], Top + (i * (Strip + Between)));
        art.Text($"{Figures.Si(record.SecondsPerDivision, "s")} per division; trigger {record.TriggerText}", Name, art.Height - 3, 3);
        return art;
    }

    private static void Draw(LineArt art, ScopeRecord record, Trace trace, double top)
    {
        double middle = top + (Strip / 2), scale = Strip / 2 / (Lane.HalfDivisions * trace.Lane.VoltsPerDivision);
        art.Box(Name, top, Across, Strip, 0.15);
        for (int division = 1; division < ScopeSettings.Divisions; division++)
            art.Line(0.08, 0.6, (Name + (division * Across / ScopeSettings.Divisions), top), (Name + (division * Across / ScopeSettings.Divisions), top + Strip));
        art.Line(0.08, 0.6, (Name, middle), (Name + Across, middle));
        art.Text(trace.Name[(trace.Name.IndexOf('/', StringComparison.Ordinal) + 1)..], 0, middle - 2, 3, bold: true);
        art.Text($"{Figures.Si(trace.Lane.VoltsPerDivision, "V")} per division", 0, middle + 2.2, 2.6);
        art.Text($"middle {Figures.Si(trace.Lane.Centre, "V")}", 0, middle + 5.8, 2.6);
        art.Text(string.Create(CultureInfo.InvariantCulture, $"{trace.Reading.PeakToPeak:0.00} Vpp"), 0, middle + 9.4, 2.6);
        art.Line(0.3, 0, [.. Thinned(record, trace).Select(point => (Name + (Across * point.X), middle - (scale * Math.Clamp(point.Volts - trace.Lane.Centre, -Lane.HalfDivisions * trace.Lane.VoltsPerDivision, Lane.HalfDivisions * trace.Lane.VoltsPerDivision))))]);
    }

    // The paper shows a tenth of a millimetre: of the points within one the first, lowest, highest and last stay.
    private static IEnumerable<(double X, double Volts)> Thinned(ScopeRecord record, Trace trace)
    {
        const int Steps = 1300;
        double length = record.To - record.From;
        return record.Shown(trace)
            .Select(point => (X: (point.Time - record.From) / length, point.Volts))
            .Where(point => point.X is >= 0 and <= 1)
            .GroupBy(point => (int)(point.X * Steps))
            .SelectMany(step => new[] { step.First(), step.MinBy(point => point.Volts), step.MaxBy(point => point.Volts), step.Last() }.Distinct().OrderBy(point => point.X));
    }
}
