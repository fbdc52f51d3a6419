using System.Collections.Immutable;
using Consort.Engine.Response;

namespace Consort.Engine.Documents;

/// <summary>Lines of response sheets: the same on a page and on a screen.</summary>
public static class ResponseLines
{
    /// <summary>A pulse's width, % of the period, against a drive in volts or % of its turn; both sides of an end stand in it, so
    /// that the line falls where the pulse dies.</summary>
    public static ImmutableArray<(double At, double Percent)> Width(WidthSheet sheet) =>
        [
            .. sheet.Points.Select(point => (point.At, point.High)).Concat(Ends(sheet)).OrderBy(point => point.At)
                .Select(point => (Scale(sheet.Drive) * point.At, 100 * point.High)),
        ];

    /// <summary>From a drive's own unit to what its axis shows: volts, or % of the turn.</summary>
    public static double Scale(Drive drive) => drive.IsJack ? 1 : 100;

    /// <summary>Words for a drive's axis.</summary>
    public static string Axis(Drive drive) => drive.IsJack ? $"voltage at {drive.Name}, V" : $"{drive.Words}, % of the turn";

    /// <summary>Frequency against volts: Hz when it is linear, else octaves from the carrier.</summary>
    public static ImmutableArray<(double Volts, double Value)> Law(FrequencySheet sheet) =>
        [.. sheet.Points.Select(point => (point.Volts, sheet.IsLinear ? point.Hertz : Math.Log2(point.Hertz / sheet.Carrier)))];

    /// <summary>A synced wave over one leading period.</summary>
    public static ImmutableArray<(double Share, double Volts)> Wave(SyncView view) => [.. view.Times.Zip(view.Volts)];

    /// <summary>Its harmonics, dB against 1 V.</summary>
    public static ImmutableArray<(double Number, double Db)> Harmonics(SyncView view) => [.. view.Amplitudes.Select((amplitude, k) => (k + 1.0, ResponseWords.Dbv(amplitude)))];

    private static IEnumerable<(double At, double High)> Ends(WidthSheet sheet)
    {
        double hair = 1e-6 * sheet.Drive.Span;
        foreach ((WidthEnd? end, double way) in ((WidthEnd?, double)[])[(sheet.Low, -1), (sheet.High, 1)])
            if (end is not null)
            {
                yield return (end.At + way * hair, end.High ? 1 : 0);
                yield return (end.At - way * hair, end.High ? 1 - end.Last : end.Last);
            }
    }
}
