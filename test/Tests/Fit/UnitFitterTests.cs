using Consort.Engine.Fit;
using Consort.Tests.Invented;
using Xunit;

namespace Consort.Tests.Fit;

public sealed class UnitFitterTests
{
    [Fact]
    public void What_is_foretold_of_notes_that_were_not_read_is_as_far_off_as_it_says()
    {
        // Read at three notes only, foretold at the others: standardised errors have a mean square of 1. The model's own
        // error of 0.1 cent is in the uncertainty and not in these units, whose truth is the model: below 1 is allowed.
        UnitModel model = TrimTrialsTests.Model("pair", "pair-follower");
        UnitFitter fitter = new(model);
        double squares = 0;
        int count = 0;
        for (int number = 0; number < 24; number++)
        {
            InventedUnit unit = new(model, 9, number, new(1, 0));
            UnitPoint[] all = [.. unit.Read(0.2, new double[unit.Trimmers])];
            FittedUnit fitted = fitter.Fit(new([all[1], all[3], all[6]], [0.5, 0.5, 0.5], [0.05, 0.05, 0.05], 0));
            foreach (int n in (int[])[2, 4, 5])
            {
                Foretold foretold = fitted.Predict(fitted.Stand.AsSpan())[n];
                squares += Math.Pow((foretold.Cents - unit.Cents(n)) / foretold.Deviation, 2);
                count++;
            }
        }
        Assert.InRange(squares / count, 0.2, 1.5); // 72 figures of which three stand together: the mean is good to 0.3
    }

    [Fact]
    public void A_wide_prior_is_told_where_parts_are_far_off_and_not_where_they_are_not()
    {
        UnitModel model = TrimTrialsTests.Model("pair", "pair-follower");
        UnitFitter fitter = new(model);
        double[] Widths(double parts) =>
            [.. Enumerable.Range(0, 10).Select(i => { InventedUnit unit = new(model, 3, i, new(parts, 0)); return fitter.Fit(new([.. unit.Read(0.2, new double[3])], [0.5, 0.5, 0.5], [0.01, 0.01, 0.01], 0)).Width.Parts; })];
        Assert.True(Widths(1).Average() < 1.5);
        Assert.True(Widths(3).Average() > 1.5 * Widths(1).Average());
    }

    [Fact]
    public void Turning_one_trimmer_to_its_note_leaves_there_what_the_hand_left()
    {
        // Two notes, one trimmer that moves both alike, an error common to both of 2 cents and one of 1 at the second alone:
        // at the watched note the hand's 0.5 is left; at the other 1 of its own and the hand's 0.5, independent.
        (double[][] left, double[] positions) = new TurnOrder([[100], [100]], [0], [0.5]).After([[4, 4], [4, 5]], [0]);
        Assert.Equal(0.25, left[0][0], 1e-12);
        Assert.Equal(1.25, left[1][1], 1e-12);
        Assert.Equal(0.25, left[0][1], 1e-12);
        Assert.Equal(Math.Sqrt(4.25) / 100, positions[0], 1e-12);
    }

    [Fact]
    public void The_chance_of_one_note_is_that_of_the_normal_law()
    {
        // Within two deviations: 0.954499736104 (Kendall & Stuart); 400 draws are good to 0.01.
        Assert.Equal(0.9545, KeptChance.Of([0], [[2.25]], [0], 3), 0.03);
        Assert.Equal(1, KeptChance.Of([0], [[0]], [0], 3));
        Assert.Equal(0, KeptChance.Of([3.1], [[0]], [0], 3));
    }
}
