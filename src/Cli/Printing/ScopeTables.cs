using Consort.Engine.Documents;
using Consort.Engine.Scope;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A sweep's readings on the terminal.</summary>
internal static class ScopeTables
{
    private const int HarmonicsShown = 9;

    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, ScopeRecord record)
    {
        screen.Line($"{record.Voice} at {Figures.Si(record.Play, "V")}, {Figures.Celsius(record.Kelvin)}; {Figures.Si(record.SecondsPerDivision, "s")} per division");
        screen.Line(record.Triggered ? $"trigger: {record.TriggerText}" : $"the trigger never came: {record.TriggerText}");
        screen.Line();
        Table table = Screen.Columns(("", false), ("frequency", true), ("pp V", true), ("mean V", true), ("rms V", true), ("duty", true), ("rise", true), ("fall", true), ("THD", true));
        foreach (Trace trace in record.Traces)
            Screen.Row(table, [trace.Name, .. ScopeWords.Cells(trace.Reading)]);
        screen.Write(table);
        Trace[] periodic = [.. record.Traces.Where(trace => trace.Reading.Harmonics is not null)];
        if (periodic.Length == 0)
            return;
        screen.Line();
        screen.Line("Harmonics against the fundamental, dB");
        Table harmonics = Screen.Columns([("", false), .. Enumerable.Range(2, HarmonicsShown).Select(k => ($"{k}", true))]);
        foreach (Trace trace in periodic)
            Screen.Row(harmonics, [trace.Name, .. Enumerable.Range(2, HarmonicsShown).Select(k => $"{trace.Reading.Harmonics!.Db(k):0.0}")]);
        screen.Write(harmonics);
        screen.Line();
        screen.Write(new Text(
            $"Read over {periodic.Min(trace => trace.Reading.Periods)} periods or more: rise and fall from 10 % to 90 %, duty at 50 % (IEEE 181); THD of harmonics 2 to {WaveReading.MostHarmonics} (IEC 60268-3)."));
    }
}
