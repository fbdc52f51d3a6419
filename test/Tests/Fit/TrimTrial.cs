using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Fit;

namespace Consort.Tests.Invented;

/// <summary>A trial at the bench: worst error over the octaves that are asked, before and after each round, cents.</summary>
/// <param name="Trimmable">True when a patient person reaches the limit in thirty rounds with a tuner without error.</param>
/// <param name="Ours">By round, the first before any.</param>
/// <param name="Plain">The same by the plain procedure.</param>
/// <param name="Turns">Trimmers that were turned, ours.</param>
/// <param name="Chance">What was foretold of the limit after each of our rounds.</param>
internal sealed record TrimTrial(bool Trimmable, double[] Ours, double[] Plain, int Turns, double[] Chance)
{
    private const int Rounds = 3;
    private const double Tuner = 0.3; // cents: how close a hand stops, beside the trimmer's own steps
    private const double Reading = 0.2; // cents: a sound card's reading with 0.1 mV of control voltage
    private const double Count = 0.1; // turns: how badly turns are counted

    /// <param name="isWhole">True: the unit is read from full transients. What is trimmable is judged by the model either way.</param>
    public static TrimTrial Run(UnitModel model, ulong seed, long number, Unlikeness unlike, bool isWhole = false)
    {
        InventedUnit patient = new(model, seed, number, unlike);
        for (int round = 0; round < 30; round++)
            PlainRound(model, patient, 0);
        if (double.IsNaN(patient.Worst()))
            return new(false, [], [], 0, []);
        bool isTrimmable = patient.Worst() <= model.Limits.TrackingCents;
        if (!isTrimmable)
            return new(false, [], [], 0, []);
        (double[] ours, int turns, double[] chance) = ByFit(model, new(model, seed, number, unlike, isWhole));
        return new(true, ours, BySheet(model, new(model, seed, number, unlike, isWhole)), turns, chance);
    }

    private static (double[] Worst, int Turns, double[] Chance) ByFit(UnitModel model, InventedUnit unit)
    {
        UnitFitter fitter = new(model);
        List<UnitPoint> points = [];
        (double[] worst, double[] chance) = (new double[Rounds + 1], new double[Rounds + 1]);
        double[] counted = new double[unit.Trimmers];
        worst[0] = unit.Worst();
        int turns = 0;
        for (int round = 1; round <= Rounds; round++)
        {
            points.AddRange(unit.Read(Reading, counted).Where(point => double.IsFinite(point.Cents))); // what does not sound cannot be read
            UnitPoints all = new([.. points], [.. counted.Select(_ => 0.5)], [.. counted.Select(_ => 0.05)], 0);
            TrimPlan plan = new TrimPlanner(fitter.Fit(all)).Plan();
            chance[round] = plan.ChanceAfter;
            foreach (TrimTurn turn in plan.Turns)
            {
                int j = model.TrimmerAt(turn.Trimmer);
                double before = unit.Stand(j);
                unit.TurnUntil(j, () => unit.Cents(model.Volts.IndexOf(turn.Volts)), model.Place.Cents(turn.Volts, turn.AimHertz), Tuner);
                counted[j] += unit.Stand(j) - before + Count / model.Sheet.Turns[j] * unit.Normal();
                turns++;
            }
            worst[round] = unit.Worst();
        }
        return (worst, turns, chance);
    }

    private static double[] BySheet(UnitModel model, InventedUnit unit)
    {
        double[] worst = new double[Rounds + 1];
        worst[0] = unit.Worst();
        for (int round = 1; round <= Rounds; round++)
        {
            PlainRound(model, unit, Tuner);
            worst[round] = unit.Worst();
        }
        return worst;
    }

    // The sheet, step by step: tracking, low against high, until the interval is right; centre; high end.
    private static void PlainRound(UnitModel model, InventedUnit unit, double tuner)
    {
        for (int j = 0; j < unit.Trimmers; j++)
        {
            int low = model.Sheet.LowNotes[j], high = model.Sheet.HighNotes[j];
            unit.TurnUntil(j, () => unit.Cents(high) - (low < 0 ? 0 : unit.Cents(low)), 0, low < 0 ? tuner : Math.Sqrt(2) * tuner);
        }
    }
}
