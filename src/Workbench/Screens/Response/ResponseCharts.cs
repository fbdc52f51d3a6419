using System.Collections.Immutable;
using Consort.Engine.Documents;
using Consort.Engine.Response;
using Consort.Workbench.Charts;

namespace Consort.Workbench.Screens.Response;

/// <summary>Charts of response sheets.</summary>
internal static class ResponseCharts
{
    /// <summary>A pulse's width.</summary>
    public static ChartData Width(OscillatorResponse one, WidthSheet sheet) =>
        new(
            Key("width", one, $"{sheet.Output}-{sheet.Drive.Name}"),
            $"Width of {sheet.Output} against {sheet.Drive.Words}",
            new(ResponseLines.Axis(sheet.Drive), sheet.Drive.IsJack ? "V" : "%", 2),
            new("high, % of the period", "%", 2),
            [new(sheet.Output, 0, ResponseLines.Width(sheet))]
        )
        {
            Levels = [new(50, "half")],
            Marks = [.. new[] { sheet.Low, sheet.High }.OfType<WidthEnd>().Select(end => new ChartMark(ResponseLines.Scale(sheet.Drive) * end.At, "dies"))],
            FromZero = true,
        };

    /// <summary>Frequency at an input's voltage.</summary>
    public static ChartData Law(OscillatorResponse one, FrequencySheet sheet) =>
        new(
            Key("frequency", one, sheet.Drive.Name),
            $"Frequency against {sheet.Drive.Words}",
            new(ResponseLines.Axis(sheet.Drive), "V", 2),
            sheet.IsLinear ? new("frequency, Hz", "Hz", 2) : new("octaves from the carrier", "octaves", 4),
            [new("frequency", 0, ResponseLines.Law(sheet))]
        )
        {
            Marks = sheet.End == LowEnd.Runs ? [] : [new(sheet.EndVolts, sheet.End == LowEnd.Stops ? "stops" : "turns")],
            FromZero = sheet.IsLinear,
        };

    /// <summary>Mean pitch under a sine.</summary>
    public static ChartData Shift(OscillatorResponse one, ResponseBook book, FrequencySheet sheet) =>
        new(
            Key("shift", one, sheet.Drive.Name),
            $"Mean pitch under a sine of {Figures.Hertz(book.Modulator)} Hz at {sheet.Drive.Name}",
            new("peak of the sine, V", "V", 2),
            new("pitch shift, cents", "cents", 2),
            [
                new("at rest", 0, [.. sheet.Depths.Select(depth => (depth.Peak, depth.ShiftCents))]),
                new("in motion", 1, [.. sheet.Depths.Where(depth => double.IsFinite(depth.MotionCents)).Select(depth => (depth.Peak, depth.MotionCents))]),
            ]
        );

    /// <summary>Waves of a synced oscillator.</summary>
    public static ChartData Waves(OscillatorResponse one, SyncSheet sheet) =>
        new(
            Key("sync-waves", one, sheet.Way),
            $"Waves of {sheet.Output} under sync",
            new("leading period", "", 3),
            new($"{sheet.Output}, V", "V", 2),
            [.. sheet.Views.Select((view, i) => new ChartLine(ResponseWords.View(view), i, ResponseLines.Wave(view)))]
        );

    /// <summary>Their harmonics.</summary>
    public static ChartData Spectra(OscillatorResponse one, SyncSheet sheet) =>
        new(
            Key("sync-spectra", one, sheet.Way),
            $"Spectra of {sheet.Output} under sync",
            new("harmonic of the leading frequency", "", 0),
            new("dB against 1 V", "dB", 1),
            [.. sheet.Views.Select((view, i) => new ChartLine(ResponseWords.View(view), i, ResponseLines.Harmonics(view)))]
        );

    // A file's name without what file systems dislike.
    private static string Key(string kind, OscillatorResponse one, string rest) =>
        string.Concat($"{kind}-{one.Oscillator}-{rest}".Select(letter => char.IsLetterOrDigit(letter) ? letter : '-'));
}
