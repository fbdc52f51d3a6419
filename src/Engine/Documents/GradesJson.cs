using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Grades;

namespace Consort.Engine.Documents;

/// <summary>Chosen grades as JSON, in the shape that docs/json.md describes.</summary>
public static class GradesJson
{
    /// <summary>Changes when a name is removed or its meaning changes; a name that is added does not change it.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(string voice, double asked, double? sum, GradeFinding finding) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort grades").Number("version", Version).Text("voice", voice).Text("currency", finding.Currency);
            json.Number("asked", asked).Number("sum", sum).Flag("found", finding.After is not null);
            json.Number("costBefore", finding.CostBefore).Number("costAfter", finding.CostAfter);
            json.Object("yieldBefore", () => Share(json, finding.YieldBefore));
            json.Object("yieldAfter", () => Share(json, finding.YieldAfter));
            json.Number("choicesMade", finding.Looked).Flag("exhaustive", finding.IsExhaustive);
            json.Number("disagreementCents", finding.Checked?.Figure);
            json.List("places", finding.Places.Select((place, i) => (Place: place, After: finding.After?[i] ?? place.Current, Weight: finding.Weights[i].Sum)), entry =>
            {
                json.Text("file", entry.Place.File).Text("part", entry.Place.Designator).Number("pieces", entry.Place.Pieces.Length);
                json.Number("brings", entry.Weight);
                json.Object("before", () => Grade(json, entry.Place.Grades[entry.Place.Current]));
                json.Object("after", () => Grade(json, entry.Place.Grades[entry.After]));
            });
        });

    private static void Grade(JsonText json, Grade grade) =>
        json.Number("tolerance", grade.Tolerance).Number("driftPerKelvin", grade.Drift).Number("price", grade.Price);

    private static void Share(JsonText json, YieldInterval share) =>
        json.Number("share", share.Share).Number("low", share.Low).Number("high", share.High);
}
