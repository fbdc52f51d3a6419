using System.Collections.Immutable;
using Consort.Engine.Expected;

namespace Consort.Engine.Documents.Packs;

/// <summary>A pack as JSON, in the shape that docs/json.md describes.</summary>
public static class PackJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(PackContent content, string folder, ImmutableArray<(string Name, byte[] Content)> files) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort pack").Number("version", Version).Text("voice", content.Voice.Name).Text("folder", folder);
            json.List("files", files, file => json.Text("name", file.Name).Number("bytes", file.Content.Length));
            json.List("units", content.Units, unit => Unit(json, unit));
            json.List("trims", content.Trims, sheet => json.Text("oscillator", sheet.Oscillator.Name).List("steps", sheet.Lines, line => Step(json, line)));
        });

    private static void Unit(JsonText json, ExpectedUnit unit)
    {
        json.Text("module", unit.Module.Name).Text("lead", unit.Lead).Number("builds", unit.Builds).Number("movingBuilds", unit.MovingBuilds);
        json.List("rails", unit.Rails, rail => json.Text("rail", rail.Rail).Number("amps", rail.Amps).Number("leastAmps", rail.Least).Number("mostAmps", rail.Most));
        json.List("points", unit.Points, point => Point(json, point));
    }

    private static void Point(JsonText json, TestPoint point)
    {
        json.Text("net", point.Net).Text("touch", point.Touch).Flag("moves", point.Moves)
            .Number("volts", point.Volts).Number("lowVolts", point.Low).Number("highVolts", point.High).Number("hertz", point.Hertz);
        foreach ((string name, Band? band) in new[] { ("Low", point.Bands?.Lowest), ("High", point.Bands?.Highest), ("Mean", point.Bands?.Mean) })
            json.Number($"least{name}Volts", band?.Least ?? double.NaN).Number($"most{name}Volts", band?.Most ?? double.NaN);
        json.Number("leastHertz", point.Bands?.Hertz.Least ?? double.NaN).Number("mostHertz", point.Bands?.Hertz.Most ?? double.NaN);
    }

    private static void Step(JsonText json, TrimLine line) =>
        json.Text("trimmer", line.Trimmer).Text("purpose", $"{line.Purpose}").Number("lowVolts", line.LowVolts).Number("lowHertz", line.LowHertz)
            .Number("highVolts", line.HighVolts).Number("highHertz", line.HighHertz).Text("ifSharpTurn", line.ClockwiseRaises switch { true => "counter-clockwise", false => "clockwise", _ => null })
            .Number("turns", line.Turns).Number("position", line.Position).Number("centsPerTurn", line.CentsPerTurn);
}
