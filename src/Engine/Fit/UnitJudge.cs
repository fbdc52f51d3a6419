using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using MathNet.Numerics;

namespace Consort.Engine.Fit;

/// <summary>Holds a unit against its design's claims and against trimmed builds of the same design.</summary>
public sealed class UnitJudge(UnitModel model)
{
    private const int Builds = 400;
    private const ulong Seed = 1;
    private const double Sure = 2; // standard uncertainties: 95 % (JCGM 100:2008, 6.3.3)
    private const double Surprising = 1e-3;

    /// <summary>Judges.</summary>
    public UnitVerdict Judge(FittedUnit unit, TrimPlan plan)
    {
        (double[] tracking, double[] drift, double[][] notes) = Simulate();
        List<UnitClaim> claims = [Standing(unit), Trimmed(plan, tracking)];
        if (model.Kelvins.Length > 1)
            claims.Add(Drift(unit, plan, drift));
        claims.Add(Spread(unit));
        return new([.. claims], [.. notes.Select((cents, n) => new BuildBand(model.Volts[n], Quantile(cents, 0.05), Quantile(cents, 0.95)))], Builds);
    }

    private Limits Limits => model.Limits;

    // Where it was read: no fit comes between.
    private UnitClaim Standing(FittedUnit unit)
    {
        UnitPoint last = unit.Points.Points[^1];
        UnitPoint[] asked = [.. unit.Points.Points.Where(point => point.Turned.SequenceEqual(last.Turned) && point.Temperature == last.Temperature && Limits.Asks(point.Volts, model.Place.Law.VoltsPerOctave))];
        string title = "worst pitch error as it stands, where it was read";
        if (asked.Length == 0)
            return new("tracking", title, double.NaN, double.NaN, Limits.TrackingCents, "cents", ClaimStanding.Open, null);
        UnitPoint worst = asked.MaxBy(point => Math.Abs(point.Cents))!;
        double deviation = Math.Sqrt(worst.Deviation * worst.Deviation + unit.Points.Shared * unit.Points.Shared);
        return Claim("tracking", title, Math.Abs(worst.Cents), deviation, Limits.TrackingCents, null);
    }

    private UnitClaim Trimmed(TrimPlan plan, double[] builds)
    {
        Foretold worst = model.Asked.Select(n => plan.After[n]).MaxBy(note => Math.Abs(note.Cents));
        return Claim("trimmed tracking", "worst pitch error foretold after trimming", Math.Abs(worst.Cents), worst.Deviation, Limits.TrackingCents, Below(builds, Math.Abs(worst.Cents)));
    }

    private UnitClaim Drift(FittedUnit unit, TrimPlan plan, double[] builds)
    {
        double[] stand = [.. unit.Stand.Select((position, j) => plan.Turns.FirstOrDefault(turn => turn.Trimmer == model.Trims[j].Trimmer)?.To ?? position)];
        double[] here = unit.Cents(stand, 0);
        (double most, double deviation) = (0, 0);
        for (int k = 1; k < model.Kelvins.Length; k++)
        {
            double[] there = unit.Cents(stand, k);
            double[] moved = unit.DriftDeviation(stand, k);
            foreach (int n in model.Asked)
                if (Math.Abs(there[n] - here[n]) >= most)
                    (most, deviation) = (Math.Abs(there[n] - here[n]), moved[n]);
        }
        string title = $"largest move of a note to {Limits.ColdKelvin - 273.15:0.#} °C or {Limits.WarmKelvin - 273.15:0.#} °C, foretold";
        return Claim("drift", title, most, deviation, Limits.DriftCents, Below(builds, most));
    }

    // The share of units of this design that are as odd as this one: chi-squared, the prior normal.
    private static UnitClaim Spread(FittedUnit unit)
    {
        double share = SpecialFunctions.GammaUpperRegularized(0.5 * unit.Points.Points.Length, 0.5 * Math.Max(0, unit.Surprise));
        return new("spread", "share of such units whose readings are odder, untrimmed", share, 0, Surprising, "", share >= Surprising ? ClaimStanding.Kept : ClaimStanding.Missed, share);
    }

    private static UnitClaim Claim(string key, string title, double figure, double deviation, double limit, double? percentile)
    {
        ClaimStanding standing = figure + Sure * deviation <= limit ? ClaimStanding.Kept : figure - Sure * deviation > limit ? ClaimStanding.Missed : ClaimStanding.Open;
        return new(key, title, figure, deviation, limit, "cents", standing, percentile);
    }

    private static double Below(double[] builds, double value) => (double)builds.Count(other => other < value) / builds.Length;

    private static double Quantile(double[] values, double share)
    {
        double[] sorted = [.. values.Order()];
        return sorted[(int)Math.Min(sorted.Length - 1, share * sorted.Length)];
    }

    private (double[] Tracking, double[] Drift, double[][] Notes) Simulate()
    {
        BuildBench<Four> bench = new(model.Builds);
        double[] drawn = new double[model.Builds.Draws.Parameters.Length * Builds];
        model.Builds.Draws.Departures(SobolPoints.Scrambled(model.Builds.Draws.Variates.Length, Seed), 0, Builds, drawn);
        (double[] tracking, double[] drift) = (new double[Builds], new double[Builds]);
        double[][] notes = [.. model.Volts.Select(_ => new double[Builds])];
        for (int first = 0; first < Builds; first += Four.Count)
        {
            bench.Run(drawn, Builds, first);
            for (int lane = 0; lane < Four.Count; lane++)
                Take(bench, lane, first + lane);
        }
        return (tracking, drift, notes);

        void Take(BuildBench<Four> read, int lane, int b)
        {
            int o = model.Oscillator;
            for (int n = 0; n < notes.Length; n++)
                notes[n][b] = read.Cents(o, 0, n, lane);
            tracking[b] = model.Asked.Max(n => Math.Abs(read.Cents(o, 0, n, lane)));
            for (int k = 1; k < model.Kelvins.Length; k++)
                drift[b] = Math.Max(drift[b], model.Asked.Max(n => Math.Abs(read.Cents(o, k, n, lane) - read.Cents(o, 0, n, lane))));
        }
    }
}
