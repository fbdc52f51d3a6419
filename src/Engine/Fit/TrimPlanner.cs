using System.Collections.Immutable;
using Consort.Engine.Pitch.Builds.Trimming;

namespace Consort.Engine.Fit;

/// <summary>
/// Says what to turn: the fewest trimmers that likely bring a unit within its limit (or those that come nearest), where
/// each is to stand, and the order in which what a hand gets wrong matters least. Each turn is told as turns and as
/// the frequency at which to stop, so that neither the trimmer's own tolerance nor its unknown position matters.
/// </summary>
public sealed class TrimPlanner
{
    private const double Likely = 0.95; // one more trimmer is not worth the rest
    private const double Aim = 0.5; // of the limit: what is aimed at, so that the day's warmth is left some
    private const double Gain = 0.02; // of likelihood: what one more trimmer has to bring
    private const double Nothing = 1; // cents over the whole travel: such a trimmer is not worth a turn
    private const double NearEnd = 0.03; // of the travel
    private const double Least = 0.3; // cents: a tuner's steadiness where the readings claim to be better

    private readonly FittedUnit unit;
    private readonly UnitModel model;
    private readonly TrimSheet sheet;
    private readonly int k;
    private readonly double[] start;

    private sealed record Choice(int[] Order, int[] Watched, double[] Stand, double[] Cents, double[][] Covariance, double[] Positions, double[][] Slopes, double Chance, double Kept);

    /// <summary>For one fitted unit.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="k">Temperature at which it is trimmed, as a place in the model's.</param>
    public TrimPlanner(FittedUnit unit, int k = 0)
    {
        (this.unit, model, this.k) = (unit, unit.Model, k);
        sheet = model.Sheet;
        start = [.. unit.Stand.Select(position => Math.Clamp(position, 0, 1))];
    }

    /// <summary>Plans.</summary>
    public TrimPlan Plan()
    {
        double[] hand = [.. Enumerable.Range(0, sheet.Count).Select(Hand)];
        Choice now = Now();
        Choice best = now;
        for (int count = 1; count <= sheet.Count && best.Chance < Likely; count++)
            foreach (int[] turned in Some(sheet.Count, count))
                if (Try(turned, hand) is { } choice && IsBetter(choice, best))
                    best = choice;
        return new([.. Turns(best)], Foretell(now), Foretell(best), now.Kept, best.Kept, [.. Cautions(best)]);
    }

    // Where neither likely comes near its aim, the smaller error counts.
    private bool IsBetter(Choice one, Choice other)
    {
        double gain = one.Order.Length > other.Order.Length ? Gain : 0;
        return one.Chance > other.Chance + gain || (one.Chance >= other.Chance && one.Chance < gain && Size(one) < 0.9 * Size(other));
    }

    private double Size(Choice choice) => model.Asked.Sum(n => choice.Cents[n] * choice.Cents[n] + choice.Covariance[n][n]);

    // A hand's step is evenly likely off by half of itself; the tuner adds its own.
    private double Hand(int j)
    {
        double slope = Math.Abs(sheet.Slopes[j * sheet.Count + j]);
        double tuner = Math.Max(Least, unit.Points.Points.Average(point => point.Deviation));
        return Math.Sqrt(Math.Pow(slope * sheet.Resolution[j], 2) / 12 + tuner * tuner);
    }

    // A volts-per-octave trimmer turns the line about some note: where it does most is the note to watch.
    private int Watched(double[][] slopes, int j)
    {
        (int low, int high) = (sheet.LowNotes[j], sheet.HighNotes[j]);
        return low >= 0 && Math.Abs(slopes[low][j]) > Math.Abs(slopes[high][j]) ? low : high;
    }

    private Choice Now()
    {
        (double[] cents, double[][] covariance) = (unit.Cents(start, k), unit.Covariance(start, k));
        return new([], [], start, cents, covariance, [], [], Chance(cents, covariance, Aim), Chance(cents, covariance, 1));
    }

    private Choice? Try(int[] turned, double[] hand)
    {
        double[] stand = new TrimTargets(unit, k).Find(start, turned);
        (double[] cents, double[][] slopes) = (unit.Cents(stand, k), unit.TrimSlopes(stand, k));
        int[] watched = [.. Enumerable.Range(0, sheet.Count).Select(j => Watched(slopes, j))];
        if (turned.Any(j => Math.Abs(slopes[watched[j]][j]) < Nothing))
            return null;
        TurnOrder order = new(slopes, watched, hand);
        double[][] foretold = unit.Covariance(stand, k);
        (int[] Order, double[][] Left, double[] Positions, double Size)? best = null;
        foreach (int[] one in TurnOrder.All(turned))
        {
            (double[][] left, double[] positions) = order.After(foretold, one);
            double size = model.Asked.Sum(n => left[n][n]);
            if (best is null || size < best.Value.Size * (1 - 1e-9))
                best = (one, left, positions, size);
        }
        return new(best!.Value.Order, watched, stand, cents, best.Value.Left, best.Value.Positions, slopes, Chance(cents, best.Value.Left, Aim), Chance(cents, best.Value.Left, 1));
    }

    private double Chance(double[] cents, double[][] covariance, double share) => KeptChance.Of(cents, covariance, model.Asked, share * model.Limits.TrackingCents);

    private ImmutableArray<Foretold> Foretell(Choice choice) =>
        [.. choice.Cents.Select((value, n) => new Foretold(model.Volts[n], value, Math.Sqrt(Math.Max(0, choice.Covariance[n][n]))))];

    private IEnumerable<TrimTurn> Turns(Choice choice)
    {
        double[] stand = (double[])start.Clone();
        foreach (int j in choice.Order)
        {
            int n = choice.Watched[j];
            double before = unit.Cents(stand, k)[n];
            double from = stand[j];
            stand[j] = choice.Stand[j];
            double after = unit.Cents(stand, k)[n];
            double ideal = model.Place.IdealHertz(model.Volts[n]);
            yield return new(
                sheet.Steps[j].Trimmer,
                sheet.Steps[j].Purpose,
                Math.Round((stand[j] - from) / sheet.Resolution[j]) * sheet.Resolution[j] * sheet.Turns[j],
                choice.Positions[j] * sheet.Turns[j],
                model.Volts[n],
                ideal * Math.Pow(2, before / 1200),
                ideal * Math.Pow(2, after / 1200),
                from,
                stand[j],
                Math.Abs(choice.Slopes[n][j]) * sheet.Resolution[j]
            );
        }
    }

    private IEnumerable<string> Cautions(Choice choice)
    {
        foreach (int j in choice.Order.Where(j => choice.Stand[j] is < NearEnd or > 1 - NearEnd))
            yield return $"{sheet.Steps[j].Trimmer} comes near an end of its travel; force on the stop ruins it. If it does not reach, a part before it is off.";
        foreach (int j in choice.Order.Where(j => unit.StandDeviation[j] > 0.1))
            yield return $"Where {sheet.Steps[j].Trimmer} stands is not known well: it may come to an end on the way. Stop there.";
        foreach (int j in Enumerable.Range(0, sheet.Count).Where(j => !choice.Order.Contains(j) && Lacks(choice, j)))
            yield return $"{sheet.Steps[j].Trimmer} stands at its stop and would have to go further: a part before it is off. The others make up for it as far as they can.";
        if (choice.Kept < 0.5)
            yield return "No turn of these trimmers likely brings the unit within its limit: look for a fault before turning (joints, values, transistors the wrong way round).";
    }

    // At a stop beyond which the asked octaves would come nearer, by the mean square.
    private bool Lacks(Choice choice, int j)
    {
        if (choice.Stand[j] is > 0 and < 1)
            return false;
        double[][] slopes = unit.TrimSlopes(choice.Stand, k);
        double along = model.Asked.Sum(n => choice.Cents[n] * slopes[n][j]), square = model.Asked.Sum(n => slopes[n][j] * slopes[n][j]);
        double further = -along / square;
        return square > 0 && further > 0 == choice.Stand[j] >= 1 && Math.Abs(further) * Math.Sqrt(square / model.Asked.Length) > Least;
    }

    private static IEnumerable<int[]> Some(int of, int count) =>
        Enumerable.Range(0, 1 << of).Where(bits => System.Numerics.BitOperations.PopCount((uint)bits) == count).Select(bits => Enumerable.Range(0, of).Where(j => (bits >> j & 1) != 0).ToArray());
}
