using Consort.Engine.Response;

namespace Consort.Engine.Documents;

/// <summary>Response sheets as JSON, in the shape that docs/json.md describes.</summary>
public static class ResponseJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(ResponseBook book) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort responses").Number("version", Version).Text("voice", book.Voice).Number("kelvin", book.Kelvin);
            json.Number("playVolts", book.Play).Number("swingVolts", book.Swing).Number("modulatorHertz", book.Modulator);
            json.List("oscillators", book.Oscillators, one => Oscillator(json, one));
        });

    private static void Oscillator(JsonText json, OscillatorResponse one)
    {
        json.Text("oscillator", one.Oscillator).Text("module", one.Module).Number("hertz", one.Hertz).Texts("outputs", one.Outputs);
        json.List("moves", one.Effects, effect =>
        {
            Drive(json, effect.Drive).Numbers("hertz", effect.Hertz);
            json.List("widths", effect.Widths.OrderBy(pair => pair.Key, StringComparer.Ordinal), pair => json.Text("output", pair.Key).Numbers("high", pair.Value));
        });
        json.List("widths", one.Widths, sheet => Width(json, sheet));
        json.List("frequencies", one.Frequencies, sheet => Frequency(json, sheet));
        json.List("syncs", one.Syncs, sheet => Sync(json, sheet));
        json.List("waves", one.Waves, sheet => Wave(json, sheet));
        json.List("levels", one.Levels, sheet => Level(json, sheet));
        json.List("absent", one.Absent, absent => json.Text("sheet", ResponseWords.Name(absent.Kind)).Text("reason", absent.Reason));
    }

    private static JsonText Drive(JsonText json, Drive drive) => json.Text("drive", drive.Name).Text("label", drive.Label).Flag("jack", drive.IsJack);

    private static void Width(JsonText json, WidthSheet sheet)
    {
        Drive(json, sheet.Drive).Text("output", sheet.Output);
        json.List("points", sheet.Points, point => json.Number("at", point.At).Number("high", point.High));
        End("low", sheet.Low);
        End("high", sheet.High);
        json.Number("halfAt", sheet.Half).Number("slope", sheet.Slope).Number("bend", sheet.Bend).Number("pitchCents", sheet.PitchCents);
        json.Numbers("places", sheet.Places);
        json.List("drifts", sheet.Drifts, drift => json.Number("kelvin", drift.Kelvin).Numbers("high", drift.High));

        void End(string name, WidthEnd? end)
        {
            json.Number(name + "EndAt", end?.At).Number(name + "EndLast", end?.Last);
            json.Text(name + "EndStays", end is null ? null : end.High ? "high" : "low");
        }
    }

    private static void Frequency(JsonText json, FrequencySheet sheet)
    {
        Drive(json, sheet.Drive).Number("carrierHertz", sheet.Carrier).Flag("linear", sheet.IsLinear).Number("slope", sheet.Slope).Number("bend", sheet.Bend);
        json.Text("lowEnd", sheet.End.ToString().ToLowerInvariant()).Number("lowEndVolts", sheet.EndVolts);
        json.List("points", sheet.Points, point => json.Number("volts", point.Volts).Number("hertz", point.Hertz));
        json.List("depths", sheet.Depths, depth =>
        {
            json.Number("peakVolts", depth.Peak).Number("deviationHertz", depth.DeviationHertz).Number("index", depth.Index);
            json.Number("shiftCents", depth.ShiftCents).Number("motionCents", depth.MotionCents).Number("motionErrorCents", depth.MotionError);
        });
        json.List("drifts", sheet.Drifts, drift => json.Number("kelvin", drift.Kelvin).Number("cents", drift.Cents).Number("slope", drift.Slope));
    }

    private static void Sync(JsonText json, SyncSheet sheet)
    {
        json.Text("source", sheet.Source).Text("way", sheet.Way).Number("flatCents", sheet.FlatCents).Flag("flatEnds", sheet.FlatEnds);
        json.Number("sharpCents", sheet.SharpCents).Flag("sharpEnds", sheet.SharpEnds).Text("output", sheet.Output).Number("spectrumChange", sheet.SpectrumChange);
        json.List("views", sheet.Views, view => json.Number("ownCents", view.OwnCents).Numbers("shares", view.Times).Numbers("volts", view.Volts).Numbers("harmonicVolts", view.Amplitudes));
    }

    private static void Wave(JsonText json, WaveSheet sheet)
    {
        json.Text("output", sheet.Output).Text("nearest", sheet.Nearest.ToString().ToLowerInvariant());
        json.List("temperatures", sheet.Temperatures, Point);
        json.List("trims", sheet.Trims, trim => json.Text("trimmer", trim.Trimmer).List("points", trim.Points, Point));
        json.Texts("still", sheet.Still);

        void Point(WavePoint point) =>
            json.Number("at", point.At).Number("distortion", point.Distortion).Number("departure", point.Departure).Numbers("harmonicsDb", point.Db).Number("peakToPeakVolts", point.PeakToPeak);
    }

    private static void Level(JsonText json, LevelSheet sheet)
    {
        json.Text("output", sheet.Output).Number("ohms", sheet.Ohms);
        json.List("points", sheet.Points, point =>
        {
            json.Number("loadOhms", point.Ohms).Number("peakToPeakVolts", point.PeakToPeak).Number("lowestVolts", point.Lowest).Number("highestVolts", point.Highest);
            json.Number("meanVolts", point.Mean).Number("rmsVolts", point.Rms).Number("pitchCents", point.PitchCents);
        });
        json.List("drifts", sheet.Drifts, drift => json.Number("kelvin", drift.Kelvin).Number("peakToPeakVolts", drift.PeakToPeak).Number("meanVolts", drift.Mean));
    }
}
