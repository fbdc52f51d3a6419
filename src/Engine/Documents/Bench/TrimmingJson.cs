using Consort.Engine.Fit;

namespace Consort.Engine.Documents.Bench;

/// <summary>What to turn on a unit and how it stands, as JSON, in the shape that docs/json.md describes.</summary>
public static class TrimmingJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(string voice, UnitTrimming trimming) =>
        JsonText.Write(json =>
        {
            FittedUnit unit = trimming.Unit;
            json.Text("shape", "consort unit trimming").Number("version", Version).Text("voice", voice);
            json.Text("module", unit.Model.Place.Unit.Module).Text("serial", unit.Model.Place.Unit.Serial);
            json.Number("limitCents", unit.Model.Limits.TrackingCents).Number("chanceBefore", trimming.Plan.ChanceBefore).Number("chanceAfter", trimming.Plan.ChanceAfter);
            json.List("turns", trimming.Plan.Turns, turn => Turn(json, turn));
            json.List("notes", unit.Model.Volts.Select((_, n) => n), n => Note(json, trimming, n));
            json.List("claims", trimming.Verdict.Claims, claim => Claim(json, claim));
            json.List("parts", unit.Parts(8), part => json.Text("what", part.What).Number("deviations", part.Departure).Number("uncertainty", part.Deviation));
            json.Number("priorWidth", unit.Width.Parts).Number("unexplainedCents", unit.Width.Smooth).Number("builds", trimming.Verdict.Builds);
            json.Texts("cautions", trimming.Plan.Cautions).Texts("remarks", trimming.Notes);
        });

    private static void Turn(JsonText json, TrimTurn turn) =>
        json.Text("trimmer", turn.Trimmer).Text("purpose", turn.Purpose.ToString().ToLowerInvariant()).Number("turnsClockwise", turn.Turns).Number("turnsUncertainty", turn.TurnsDeviation)
            .Number("watchVolts", turn.Volts).Number("fromHertz", turn.FromHertz).Number("aimHertz", turn.AimHertz).Number("from", turn.From).Number("to", turn.To).Number("stepCents", turn.StepCents);

    private static void Note(JsonText json, UnitTrimming trimming, int n) =>
        json.Number("controlVolts", trimming.Plan.Before[n].Volts)
            .Number("centsBefore", trimming.Plan.Before[n].Cents).Number("deviationBefore", trimming.Plan.Before[n].Deviation)
            .Number("centsAfter", trimming.Plan.After[n].Cents).Number("deviationAfter", trimming.Plan.After[n].Deviation)
            .Number("buildsLowCents", trimming.Verdict.Bands[n].Low).Number("buildsHighCents", trimming.Verdict.Bands[n].High);

    private static void Claim(JsonText json, UnitClaim claim) =>
        json.Text("key", claim.Key).Text("title", claim.Title).Number("figure", claim.Figure).Number("uncertainty", claim.Deviation).Number("limit", claim.Limit)
            .Text("unit", claim.Unit).Text("standing", claim.Standing.ToString().ToLowerInvariant()).Number("percentile", claim.Percentile);
}
