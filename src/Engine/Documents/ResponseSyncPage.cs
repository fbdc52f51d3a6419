using System.Text;
using Consort.Engine.Response;

namespace Consort.Engine.Documents;

/// <summary>The page's part on one sync: waves over one leading period, and their harmonics.</summary>
internal static class ResponseSyncPage
{
    private const double Floor = -60; // dB

    public static string Write(SyncSheet sheet)
    {
        StringBuilder html = new($"<h3>{ReportPage.Encode(ResponseWords.Title(sheet))}</h3>\n<div class=\"pair\">\n");
        string[] names = [.. sheet.Views.Select(view => $"{ResponseWords.Signed(view.OwnCents, 0)} cents".Replace('-', '−'))];
        ChartAxis volts = ChartAxis.Holding(sheet.Views.SelectMany(view => view.Volts), $"{sheet.Output}, V");
        Chart waves = new Chart(460, 290, new(0, 1, 0.2, "leading period"), volts, $"Waves of {sheet.Output} under sync").LabelsFrom(names);
        ChartAxis db = new(Floor, Math.Max(10, 10 * Math.Ceiling(sheet.Views.Max(view => view.Amplitudes.Max(ResponseWords.Dbv)) / 10)), 10, "dB against 1 V");
        Chart lines = new Chart(460, 290, new(0, 20, 2, "harmonic of the leading frequency"), db, $"Spectra of {sheet.Output} under sync").LabelsFrom(names);
        for (int i = 0; i < sheet.Views.Length; i++)
        {
            SyncView view = sheet.Views[i];
            waves.Line(names[i], ResponseLines.Wave(view), i, marked: false);
            lines.Line(names[i], ResponseLines.Harmonics(view), i);
        }
        html.Append(ResponsePage.Figure(waves, string.Join(". ", ResponseWords.Sentences(sheet).Select(ResponsePage.Capital))));
        html.Append(ResponsePage.Figure(lines, "Harmonics of the same waves; a line's name is the oscillator's own pitch against what leads it"));
        return html.Append("</div>\n").ToString();
    }
}
