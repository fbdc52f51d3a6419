using System.Text;
using Consort.Engine.Documents.Files;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;

namespace Consort.Engine.Documents;

/// <summary>Readings of a sweep in words and as a table of numbers.</summary>
public static class ScopeWords
{
    /// <summary>The lines beside a trace: its scale, what repeats, how it moves.</summary>
    public static IEnumerable<string> Beside(Trace trace)
    {
        WaveReading reading = trace.Reading;
        yield return $"{Figures.Si(trace.Lane.VoltsPerDivision, "V")} per division";
        if (reading.Periods > 0)
            yield return Hertz(reading);
        yield return $"{Figures.Si(reading.PeakToPeak, "V")} pp, mean {Figures.Si(Small(reading.Mean), "V")}";
        if (reading.Periods > 0)
            yield return $"duty {100 * reading.Duty:0.0} %, THD {Percent(reading.Harmonics!.Distortion)}";
        if (double.IsFinite(reading.RiseSeconds) || double.IsFinite(reading.FallSeconds))
            yield return $"rise {Time(reading.RiseSeconds)}, fall {Time(reading.FallSeconds)}";
    }

    /// <summary>A frequency with six digits.</summary>
    public static string Hertz(WaveReading reading) => reading.Periods > 0 ? QuantityText.Write(reading.Hertz, Dimension.Frequency, 6) : "-";

    /// <summary>A share in percent, three digits.</summary>
    public static string Percent(double share) => $"{QuantityText.Digits(100 * share, 3)} %";

    /// <summary>A duration, or a dash when there was none.</summary>
    public static string Time(double seconds) => double.IsFinite(seconds) ? QuantityText.Write(seconds, Dimension.Time, 3) : "-";

    /// <summary>A table's cells: frequency, peak to peak, mean, rms (V), duty, rise, fall, distortion.</summary>
    public static string[] Cells(WaveReading reading) =>
        [
            Hertz(reading),
            $"{reading.PeakToPeak:0.0000}",
            $"{reading.Mean:0.0000}",
            $"{reading.Rms:0.0000}",
            reading.Periods > 0 ? $"{100 * reading.Duty:0.00} %" : "-",
            Time(reading.RiseSeconds),
            Time(reading.FallSeconds),
            reading.Harmonics is { } harmonics ? Percent(harmonics.Distortion) : "-",
        ];

    /// <summary>What is below a nanovolt is rounding.</summary>
    public static double Small(double volts) => Math.Abs(volts) < 1e-9 ? 0 : volts;

    /// <summary>All traces as comma-separated values (RFC 4180): time against the trigger, then a column for each trace.</summary>
    public static string Csv(ScopeRecord record)
    {
        StringBuilder text = new();
        text.Append("time s");
        foreach (Trace trace in record.Traces)
            text.Append(',').Append(Quoted($"{trace.Name} V"));
        text.Append("\r\n");
        foreach (int i in record.Moments)
        {
            text.Append($"{record.Times[i]:R}");
            foreach (Trace trace in record.Traces)
                text.Append(',').Append($"{trace.Volts[i]:R}");
            text.Append("\r\n");
        }
        return text.ToString();
    }

    /// <summary>Where time begins, in words.</summary>
    internal static string Trigger(ScopeRecord record) =>
        Minus.Set(record.Triggered ? $"0 {TimeUnit(record.SecondsPerDivision).Unit}: {record.TriggerText}" : $"not triggered ({record.TriggerText})");

    /// <summary>The unit in which a time axis of such divisions is written, and how many of them a second has.</summary>
    internal static (double Factor, string Unit) TimeUnit(double seconds) =>
        seconds >= 0.1 ? (1, "s") : seconds >= 1e-4 ? (1e3, "ms") : seconds >= 1e-7 ? (1e6, "µs") : (1e9, "ns");

    /// <summary>The unit in which a lane of such divisions is written, and how many of them a volt has.</summary>
    internal static (double Factor, string Unit) VoltUnit(double volts) => volts >= 0.1 ? (1, "V") : volts >= 1e-4 ? (1e3, "mV") : (1e6, "µV");

    /// <summary>A number beside a graticule, four digits.</summary>
    internal static string Plain(double value) => Math.Abs(value) < 1e-9 ? "0" : value.ToString("G4").Replace('-', '−');

    private static string Quoted(string name) => name.AsSpan().ContainsAny(",\"\n") ? $"\"{name.Replace("\"", "\"\"")}\"" : name;
}
