using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Bench.Waveforms;

namespace Consort.Engine.Documents.Bench;

/// <summary>Readings of a unit as JSON, in the shape that docs/json.md describes.</summary>
public static class ReadingsJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(string voice, UnitPlace place, ReadingSet set) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort readings").Number("version", Version).Text("voice", voice);
            json.Text("module", set.Unit.Module).Text("serial", set.Unit.Serial).Text("member", place.Member.Name);
            json.Object("clock", () => json.Number("ratio", set.Clock.Ratio).Number("ratioUncertainty", set.Clock.Uncertainty).Flag("calibrated", set.Clock.IsCalibrated));
            json.List("readings", set.Readings, reading => Reading(json, place, reading));
            json.List("syncs", set.Syncs, sync => Sync(json, sync));
            PitchLine? line = PitchLine.Through(place, set.Readings);
            json.Number("centsPerOctave", line?.CentsPerOctave).Number("centsAtMiddle", line?.CentsAtMiddle).Number("middleVolts", line?.MiddleVolts);
            json.Texts("notes", set.Notes);
        });

    private static void Reading(JsonText json, UnitPlace place, UnitReading reading)
    {
        double volts = reading.Control.Value;
        json.Number("controlVolts", volts).Number("controlUncertaintyVolts", reading.ControlUncertainty);
        json.Number("hertz", reading.Frequency.Value).Number("uncertaintyHertz", reading.Uncertainty);
        json.Number("idealHertz", place.IdealHertz(volts)).Number("cents", place.Cents(volts, reading.Frequency.Value));
        json.Number("uncertaintyCents", reading.UncertaintyCents(place.Law.VoltsPerOctave));
        json.Number("kelvin", reading.Kelvin).Text("from", reading.From);
        if (reading.Heard is { } heard)
            json.Object("note", () => Note(json, heard));
        else
            json.Text("note", null);
    }

    private static void Sync(JsonText json, SyncReading sync)
    {
        json.Text("from", sync.File).Number("fromCents", sync.FromCents).Number("toCents", sync.ToCents).Number("leastCents", sync.LeastCents);
        json.List("holds", sync.Holds, hold =>
        {
            json.Number("startSeconds", hold.Start).Number("endSeconds", hold.End).Number("leadHertz", hold.LeadHertz);
            json.Number("flatCents", hold.Flat.Cents).Number("flatUncertaintyCents", hold.Flat.Uncertainty).Flag("flatReached", hold.Flat.IsReached);
            json.Number("sharpCents", hold.Sharp.Cents).Number("sharpUncertaintyCents", hold.Sharp.Uncertainty).Flag("sharpReached", hold.Sharp.IsReached);
        });
    }

    private static void Note(JsonText json, HeardNote note)
    {
        json.Number("startSeconds", note.Start).Number("lengthSeconds", note.Length);
        json.Number("signalToNoiseDb", note.Tone?.SignalToNoise).Number("humDb", note.Tone?.HumShare);
        json.Number("driftCents", note.Tone?.DriftCents).Number("excess", note.Tone?.Excess);
        if (note.Wave is { } wave)
            json.Object("wave", () => Wave(json, wave));
        else
            json.Text("wave", null);
        if (note.Pair is { } pair)
            json.Object("pair", () => Pair(json, pair));
        else
            json.Text("pair", null);
    }

    private static void Wave(JsonText json, WaveReading wave) =>
        json.Text("waveShape", wave.Shape.ToString().ToLowerInvariant())
            .Number("shapeMisfit", wave.ShapeMisfit)
            .Number("duty", wave.Duty)
            .Number("rising", wave.Rising)
            .Number("distortion", wave.Distortion)
            .Number("peakToPeak", wave.PeakToPeak)
            .Number("rms", wave.Rms)
            .Flag("inVolts", wave.InVolts)
            .Number("harmonics", wave.Harmonics);

    private static void Pair(JsonText json, PairReading pair) =>
        json.Number("lowHertz", pair.Low.Frequency.Value)
            .Number("highHertz", pair.High.Frequency.Value)
            .Number("intervalCents", pair.Interval.Value)
            .Number("beatHertz", pair.Beat.Value)
            .Number("beatUncertaintyHertz", pair.BeatUncertainty);
}
