using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Documents;

/// <summary>What builds do, as a part of a proof's JSON.</summary>
internal static class SpreadJson
{
    public static void Write(JsonText json, SpreadResult spread)
    {
        json.Number("builds", spread.Builds).Text("points", spread.Points).Number("seed", spread.Seed).Number("asked", spread.Asked);
        json.Object("yield", () => Share(json, spread.Yield));
        json.List("figures", spread.Figures, figure =>
        {
            json.Text("key", figure.Key).Text("title", figure.Title).Number("limitCents", figure.Limit);
            json.Object("kept", () => Share(json, figure.Kept));
            json.Number("medianCents", figure.Median).Number("mostCents", figure.Most).Number("worstCents", figure.Worst);
            json.Numbers("bins", figure.Bins.Select(count => (double)count)).Number("binsToCents", figure.BinsTo);
        });
        if (spread.Lag is { } lag)
            json.Object("lag", () => json.Number("kelvin", lag.Kelvin).Number("medianCents", lag.Median).Number("mostCents", lag.Most).Number("worstCents", lag.Worst));
        else
            json.Number("lag", null);
        json.List("notes", spread.Notes, band =>
            json.Text("oscillator", band.Oscillator)
                .Number("kelvin", band.Kelvin)
                .Numbers("controlVolts", band.ControlVolts)
                .Numbers("meanCents", band.Mean)
                .Numbers("deviationCents", band.Deviation));
        json.List("trimmers", spread.Trimmers, use =>
        {
            json.Text("oscillator", use.Oscillator).Text("trimmer", use.Trimmer).Text("purpose", ReportTrims.Word(use.Purpose));
            json.Number("design", use.Design).Number("low", use.Low).Number("median", use.Median).Number("high", use.High);
            json.Object("runsOut", () => Share(json, use.RunsOut));
            json.Number("missingCents", use.MissingCents).Number("centsPerDegree", use.CentsPerDegree).Number("stepCents", use.Step);
        });
        json.List("followers", spread.Followers, wander =>
            json.Text("follower", wander.Follower)
                .Number("controlVolts", wander.ControlVolts)
                .Number("hertz", wander.Hertz)
                .Number("medianCents", wander.MedianCents)
                .Number("mostCents", wander.MostCents)
                .Number("mostBeatsHertz", wander.MostBeats));
        json.List("shares", spread.Shares, share =>
            json.Text("part", share.Part)
                .Text("parameter", share.Parameter)
                .Number("tracking", share.Tracking)
                .Number("drift", share.Drift)
                .Number("followers", share.Followers)
                .Number("error", share.Error));
        json.List("worst", spread.Worst, build =>
            json.Number("build", build.Number)
                .Number("trackingCents", build.TrackingCents)
                .Number("driftCents", build.DriftCents)
                .Number("followerCents", build.FollowerCents)
                .Text("where", build.Where));
    }

    private static void Share(JsonText json, YieldInterval share) =>
        json.Number("share", share.Share).Number("low", share.Low).Number("high", share.High);
}
