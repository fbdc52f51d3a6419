using Consort.Engine.Scope;

namespace Consort.Engine.Documents;

/// <summary>A sweep as JSON, in the shape that docs/json.md describes.</summary>
public static class ScopeJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(ScopeRecord record) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort traces").Number("version", Version).Text("voice", record.Voice);
            json.Number("kelvin", record.Kelvin).Number("playVolts", record.Play);
            json.Text("trigger", record.TriggerText).Flag("triggered", record.Triggered);
            json.Number("secondsPerDivision", record.SecondsPerDivision).Number("fromSeconds", record.From).Number("toSeconds", record.To);
            json.Number("steps", record.Steps);
            int[] shown = [.. record.Moments];
            json.List("traces", record.Traces, trace => Trace(json, trace, shown));
            json.Numbers("seconds", shown.Select(i => record.Times[i]));
        });

    private static void Trace(JsonText json, Trace trace, int[] shown)
    {
        WaveReading reading = trace.Reading;
        json.Text("name", trace.Name).Number("voltsPerDivision", trace.Lane.VoltsPerDivision).Number("centreVolts", trace.Lane.Centre);
        json.Number("lowestVolts", reading.Levels.Lowest).Number("highestVolts", reading.Levels.Highest);
        json.Number("lowStateVolts", reading.Levels.Low).Number("highStateVolts", reading.Levels.High).Flag("hasStates", reading.Levels.HasStates);
        json.Number("meanVolts", reading.Mean).Number("rmsVolts", reading.Rms).Number("periods", reading.Periods);
        json.Number("hertz", reading.Hertz).Number("unsteadiness", reading.Unsteadiness).Number("duty", reading.Duty);
        json.Number("riseSeconds", reading.RiseSeconds).Number("fallSeconds", reading.FallSeconds);
        json.Number("distortion", reading.Harmonics?.Distortion);
        json.Numbers("harmonicVolts", reading.Harmonics?.Lines.Select(line => line.Magnitude) ?? []);
        json.Numbers("harmonicRadians", reading.Harmonics?.Lines.Select(line => line.Phase) ?? []);
        json.Numbers("volts", shown.Select(i => trace.Volts[i]));
    }
}
