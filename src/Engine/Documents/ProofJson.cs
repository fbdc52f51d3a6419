using System.Text;
using System.Text.Json;
using Consort.Engine.Pitch;

namespace Consort.Engine.Documents;

/// <summary>A proof as JSON, in the shape that docs/json.md describes. Numbers are written so that they read back to the
/// same bits; a number that is not finite is null.</summary>
public static class ProofJson
{
    /// <summary>Changes when a name is removed or its meaning changes; a name that is added does not change it.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(Proof proof) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort proof").Number("version", Version).Text("voice", proof.Voice).Text("about", proof.About);
            json.Flag("passed", proof.Passed);
            json.Object("limits", () => Limits(json, proof));
            json.List("claims", proof.Claims, claim => Claim(json, claim));
            json.List("tracking", proof.Tracking, curve => Tracking(json, curve));
            json.List("temperature", proof.Temperature, shift => Temperature(json, shift));
            json.List("budgets", proof.Budgets, budget => Budget(json, budget));
            if (proof.Chain is { } chain)
                json.Object("chain", () => Chain(json, chain));
            else
                json.Text("chain", null);
            if (proof.Spread is { } spread)
                json.Object("spread", () => SpreadJson.Write(json, spread));
            else
                json.Text("spread", null);
            json.Number("build", proof.Build);
            json.List("trims", proof.Trims, trim => Trim(json, trim));
            json.List("accuracy", proof.Accuracy, note =>
                json.Text("what", note.What).Number("figure", note.Figure).Text("unit", note.Unit).Text("against", note.Against));
            json.Texts("notes", proof.Notes).Texts("notModelled", proof.NotModelled).Number("seconds", proof.Seconds);
        });

    private static void Limits(JsonText json, Proof proof) =>
        json.Number("trackingCents", proof.Limits.TrackingCents)
            .Number("octaves", proof.Limits.Octaves)
            .Number("lowestVolts", proof.Limits.LowestVoltage)
            .Number("driftCents", proof.Limits.DriftCents)
            .Number("coldKelvin", proof.Limits.ColdKelvin)
            .Number("warmKelvin", proof.Limits.WarmKelvin)
            .Number("followerCents", proof.Limits.FollowerCents)
            .Number("followers", proof.Limits.Followers)
            .Number("yield", proof.Limits.Yield);

    private static void Claim(JsonText json, Claim claim)
    {
        json.Text("key", claim.Key).Text("title", claim.Title).Number("figure", claim.Figure).Number("limit", claim.Limit);
        json.Text("sense", claim.Sense == LimitSense.AtMost ? "at most" : "at least").Text("unit", claim.Unit);
        json.Flag("passed", claim.Passed).Text("cause", claim.Cause).Text("mend", claim.Mend);
        json.Object("why", () => Reason(json, claim.Why));
    }

    private static void Reason(JsonText json, Reason reason)
    {
        json.Text("text", reason.Text).Number("value", reason.Value).Text("unit", reason.Unit);
        if (reason.Part is { } part)
            json.Object("part", () =>
                json.Text("part", part.Part)
                    .Text("parameter", part.Parameter)
                    .Number("value", part.Value)
                    .Text("unit", part.Unit)
                    .Number("sensitivity", part.Sensitivity)
                    .Text("per", part.SensitivityPer));
        json.List("children", reason.Children, child => Reason(json, child));
    }

    private static void Tracking(JsonText json, TrackingCurve curve)
    {
        json.Text("oscillator", curve.Oscillator).Number("kelvin", curve.Kelvin);
        json.List("points", curve.Points, point =>
            json.Number("controlVolts", point.ControlVolts)
                .Number("idealHertz", point.IdealHertz)
                .Number("measuredHertz", point.MeasuredHertz)
                .Number("cents", point.Cents));
    }

    private static void Temperature(JsonText json, TemperatureShift shift) =>
        json.Text("oscillator", shift.Oscillator)
            .Number("kelvin", shift.Kelvin)
            .Number("worstCents", shift.WorstCents)
            .Number("atControlVolts", shift.AtControlVolts)
            .Number("centsPerKelvin", shift.CentsPerKelvin)
            .Number("centsPerOctave", shift.CentsPerOctave)
            .Text("cause", shift.Cause);

    private static void Budget(JsonText json, Budget budget)
    {
        json.Text("oscillator", budget.Oscillator).Numbers("controlVolts", budget.ControlVolts);
        json.List("lines", budget.Lines, line =>
            json.Text("cause", line.Cause.ToString().ToLowerInvariant())
                .Text("part", line.Part)
                .Text("parameter", line.Parameter)
                .Number("value", line.Value)
                .Text("unit", line.Unit)
                .Numbers("cents", line.Cents)
                .Number("share", line.Share));
        json.Numbers("unexplainedCents", budget.UnexplainedCents);
    }

    private static void Chain(JsonText json, ChainStudy chain)
    {
        json.Text("lead", chain.Lead).Number("largest", chain.Largest).Text("firstFailure", chain.FirstFailure).Text("mend", chain.Mend);
        json.List("points", chain.Points, point =>
        {
            json.Number("followers", point.Followers).Number("worstCents", point.WorstCents).Text("worstFollower", point.WorstFollower);
            json.Number("driveLeftAmps", point.DriveLeftAmps).Number("peakingDb", point.PeakingDb);
            json.Flag("stable", !double.IsPositiveInfinity(point.PeakingDb));
            json.Number("groundOffsetVolts", point.GroundOffsetVolts).Number("railDropVolts", point.RailDropVolts);
            json.Flag("passed", point.Passed).Text("firstFailure", point.FirstFailure);
        });
    }

    private static void Trim(JsonText json, TrimResult trim) =>
        json.Text("oscillator", trim.Oscillator)
            .Text("trimmer", trim.Trimmer)
            .Text("purpose", ReportTrims.Word(trim.Purpose))
            .Number("position", trim.Position)
            .Number("rangeUsed", trim.RangeUsed)
            .Number("centsPerTurn", trim.CentsPerTurn)
            .Flag("reached", trim.Reached);
}
