using Consort.Engine.Faults;

namespace Consort.Engine.Documents.Bench;

/// <summary>What is likely wrong with a unit, as JSON, in the shape that docs/json.md describes.</summary>
public static class DiagnosisJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(string voice, UnitDiagnosis found) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort diagnosis").Number("version", Version).Text("voice", voice);
            json.Text("module", found.Place.Unit.Module).Text("serial", found.Place.Unit.Serial);
            json.Flag("sound", found.Diagnosis.IsSound).Number("furthestDeviations", found.Diagnosis.Furthest);
            json.Number("faultsTried", found.Book.Count).Number("faultsUnsolved", found.Book.Unsolved);
            json.List("explanations", found.Diagnosis.Ranked, one =>
            {
                json.Text("fault", one.Fault.Words).Text("kind", one.Fault.Kind.ToString().ToLowerInvariant()).Text("part", one.Fault.Part).Number("weight", one.Weight);
                json.Texts("alike", one.Alike).List("foretold", one.Foretold, reading => Reading(json, found, reading));
            });
            json.List("next", found.Diagnosis.Next, next =>
            {
                UnitFigure figure = found.Book.Figures[next.Figure];
                json.Text("what", figure.Word).Text("place", figure.Place).Number("bits", next.Bits);
            });
        });

    private static void Reading(JsonText json, UnitDiagnosis found, FigureReading reading)
    {
        UnitFigure figure = found.Book.Figures[reading.Figure];
        json.Text("what", figure.Word).Text("place", figure.Place).Number("value", figure.Plain(reading.Value)).Text("unit", figure.Unit);
    }
}
