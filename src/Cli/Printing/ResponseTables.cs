using Consort.Engine.Documents;
using Consort.Engine.Response;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>Response sheets on the terminal.</summary>
internal static class ResponseTables
{
    /// <summary>Prints all of them.</summary>
    public static void Print(Screen screen, ResponseBook book)
    {
        screen.Line($"{book.Voice} at {Figures.Si(book.Play, "V")}, {Figures.Celsius(book.Kelvin)}; jacks driven by {Figures.Si(book.Swing, "V")} either way, their depth open");
        foreach (OscillatorResponse one in book.Oscillators)
        {
            screen.Line();
            screen.Line($"{one.Oscillator}, {one.Module}: {Figures.Hertz(one.Hertz)} Hz");
            Moves(screen, one);
            foreach (WidthSheet sheet in one.Widths)
                Width(screen, sheet);
            foreach (FrequencySheet sheet in one.Frequencies)
                Frequency(screen, book, sheet);
            foreach (SyncSheet sheet in one.Syncs)
                Sync(screen, sheet);
            Waves(screen, one);
            Levels(screen, one);
            foreach (AbsentSheet absent in one.Absent)
                Paragraph(screen, $"no sheet '{ResponseWords.Name(absent.Kind)}': {absent.Reason}");
        }
    }

    private static void Moves(Screen screen, OscillatorResponse one)
    {
        if (one.Effects.IsEmpty)
            return;
        Title(screen, "What moves it");
        Table table = Screen.Columns([("", false), ("from", true), ("to", true), ("low cents", true), ("high cents", true), .. Widths(one).Select(output => ($"{output}", true))]);
        foreach (DriveEffect effect in one.Effects)
            Screen.Row(table,
                [
                    effect.Drive.Words, ResponseWords.At(effect.Drive, effect.Drive.Low), ResponseWords.At(effect.Drive, effect.Drive.High), ResponseWords.Cents(effect, 0), ResponseWords.Cents(effect, 2),
                    .. Widths(one).Select(output => $"{ResponseWords.Percent(effect.Widths[output][0])} to {ResponseWords.Percent(effect.Widths[output][2])}"),
                ]);
        screen.Write(table);
    }

    private static IEnumerable<string> Widths(OscillatorResponse one) => one.Widths.Select(sheet => sheet.Output).Distinct();

    private static void Width(Screen screen, WidthSheet sheet)
    {
        Title(screen, $"Width of {sheet.Output} against {sheet.Drive.Words}");
        foreach (string sentence in ResponseWords.Sentences(sheet))
            Paragraph(screen, sentence);
    }

    private static void Frequency(Screen screen, ResponseBook book, FrequencySheet sheet)
    {
        Title(screen, $"Frequency against {sheet.Drive.Words}");
        foreach (string sentence in ResponseWords.Sentences(sheet))
            Paragraph(screen, sentence);
        Table table = Screen.Columns(("sine peak", true), ("deviation Hz", true), ($"index at {Figures.Hertz(book.Modulator)} Hz", true), ("pitch shift", true), ("in motion", true));
        foreach (DepthPoint depth in sheet.Depths)
            Screen.Row(table,
                [
                    Figures.Si(depth.Peak, "V"), $"{depth.DeviationHertz:0.0}", $"{depth.Index:0.000}", Figures.SignedCents(depth.ShiftCents),
                    ResponseWords.Motion(depth),
                ]);
        screen.Write(table);
    }

    private static void Sync(Screen screen, SyncSheet sheet)
    {
        Title(screen, ResponseWords.Title(sheet));
        foreach (string sentence in ResponseWords.Sentences(sheet))
            Paragraph(screen, sentence);
        Table table = Screen.Columns([("harmonics, dB against 1 V", false), .. Enumerable.Range(1, 8).Select(k => ($"{k}", true))]);
        foreach (SyncView view in sheet.Views)
            Screen.Row(table, [ResponseWords.View(view), .. view.Amplitudes.Take(8).Select(volts => $"{ResponseWords.Dbv(volts):0.0}")]);
        screen.Write(table);
    }

    private static void Waves(Screen screen, OscillatorResponse one)
    {
        if (one.Waves.IsEmpty)
            return;
        Title(screen, "Wave shapes: harmonics against the fundamental, dB; departure from the nearest ideal wave");
        Table table = Screen.Columns([("", false), ("", false), ("pp V", true), ("THD", true), ("departs", true), .. Enumerable.Range(2, 6).Select(k => ($"{k}", true))]);
        foreach (WaveSheet sheet in one.Waves)
        {
            foreach ((string at, WavePoint point) in ResponseWords.Points(sheet))
                Row(table, $"{sheet.Output} ({ResponseWords.Name(sheet.Nearest)})", at, point);
        }
        screen.Write(table);
        string[] still = [.. one.Waves.SelectMany(sheet => sheet.Still).Distinct()];
        if (still.Length > 0)
            Paragraph(screen, $"turned from end to end, {string.Join(", ", still)} {(still.Length == 1 ? "moves" : "move")} none of the shapes that this table does not list by trimmer");
    }

    private static void Row(Table table, string output, string at, WavePoint point) =>
        Screen.Row(table, [output, at, $"{point.PeakToPeak:0.00}", ResponseWords.Percent(point.Distortion, "0.00"), ResponseWords.Percent(point.Departure, "0.00"), .. point.Db.Take(6).Select(db => $"{db:0.0}")]);

    private static void Levels(Screen screen, OscillatorResponse one)
    {
        if (one.Levels.IsEmpty)
            return;
        Title(screen, "Levels: peak to peak, V, under loads to 0 V; mean, highest and lowest without load");
        Table table = Screen.Columns([("", false), .. LevelSheet.Loads.Select(load => (ResponseWords.Load(load), true)), ("mean", true), ("lowest", true), ("highest", true), ("output", true), ("pulls", true)]);
        foreach (LevelSheet sheet in one.Levels)
            Screen.Row(table,
                [
                    sheet.Output, .. sheet.Points.Select(point => $"{point.PeakToPeak:0.00}"), $"{sheet.Points[0].Mean:0.00}", $"{sheet.Points[0].Lowest:0.00}", $"{sheet.Points[0].Highest:0.00}",
                    Figures.Si(double.Round(sheet.Ohms, 0), "Ω"), ResponseWords.Signed(sheet.Points[^1].PitchCents, 3) + " c",
                ]);
        screen.Write(table);
        foreach (LevelSheet sheet in one.Levels)
            Paragraph(screen, ResponseWords.Sentence(sheet));
    }

    private static void Title(Screen screen, string text)
    {
        screen.Line();
        screen.Line(text);
    }

    private static void Paragraph(Screen screen, string text) => screen.Write(new Padder(new Text(text)).Padding(2, 0, 0, 0));
}
