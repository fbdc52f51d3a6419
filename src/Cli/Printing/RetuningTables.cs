using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Retuning;
using Consort.Engine.Quantities;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>Chosen values on the terminal: what changes, and where trimmers then stand.</summary>
internal static class RetuningTables
{
    /// <summary>Prints all of it.</summary>
    public static void Print(Screen screen, Voice voice, Retuning found)
    {
        screen.Write(new Text($"{voice.Name}: {found.Values.Length} free values, {found.Tried} sets of preferred values tried, each trimmed"));
        screen.Line();
        Table values = Screen.Columns(("part", false), ("of", false), ("is", true), ("becomes", true));
        foreach (RetunedValue value in found.Values)
        {
            string after = value.After == value.Before ? "stays" : Text(value, value.After);
            Screen.Row(values, $"{Path.GetFileNameWithoutExtension(value.File)}/{value.Part.Name}", value.Series, Text(value, value.Before), after);
        }
        screen.Write(values);
        screen.Line();
        screen.Line("Trimmed and read from transients: where trimmers stand, per cent of the turn, and worst error");
        Table table = Screen.Columns(("", false), ("", false), ("", false), ("before", true), ("after", true));
        foreach (RetunedOscillator oscillator in found.Oscillators)
        {
            string name = oscillator.Oscillator;
            foreach ((TrimResult before, TrimResult after) in oscillator.Before.Zip(oscillator.After))
            {
                Screen.Row(table, name, before.Trimmer, ReportPage.TrimWord(before.Purpose), Stands(before), Stands(after));
                name = "";
            }
            Screen.Row(table, name, "", "tracking error", Cents(oscillator.TrackingBefore), Cents(oscillator.TrackingAfter));
        }
        screen.Write(table);
        screen.Write(new Text("Only pitch was judged: what else a value sets is not looked at."));
    }

    private static string Text(RetunedValue value, double number) => QuantityText.Write(number, value.Part.Kind.ValueDimension!.Value);

    private static string Stands(TrimResult trim) => (100 * trim.Position).ToString("0.0", CultureInfo.InvariantCulture) + (trim.Reached ? "" : " END");

    private static string Cents(double cents) => cents.ToString("0.00", CultureInfo.InvariantCulture) + " cents";
}
