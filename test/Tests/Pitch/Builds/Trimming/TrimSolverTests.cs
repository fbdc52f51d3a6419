using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Trimming;
using Xunit;

namespace Consort.Tests.Pitch.Builds.Trimming;

public sealed class TrimSolverTests
{
    // Two trimmers that disturb each other: tracking moves the centre ten times as far as it moves itself.
    private static readonly double[] Slopes = [-200, 0, 400, 360];

    private static TrimSheet Sheet(double resolution = 1e-9) =>
        new(
            [Step(TrimPurpose.Tracking), Step(TrimPurpose.Centre)],
            [0, 1],
            [0, -1],
            [1, 1],
            [0.5, 0.5],
            [resolution, resolution],
            [20, 20],
            Slopes
        );

    private static TrimStep Step(TrimPurpose purpose) => new("RV", purpose, 1, 5, default!);

    // Errors of a build whose trimmers are right at a and b, with a law that bends by a tenth over the turn.
    private static double[] Read(TrimSolver solver, double a, double b)
    {
        double first = solver.Positions[0] - a;
        double second = solver.Positions[1] - b;
        return [-200 * (first + 0.1 * first * first), 400 * first + 360 * second];
    }

    private static TrimSolver Run(TrimSheet sheet, double a, double b, out int rounds)
    {
        TrimSolver solver = new(sheet);
        solver.Begin();
        for (rounds = 0; rounds < 20 && !solver.IsDone; rounds++)
            solver.Turn(Read(solver, a, b));
        return solver;
    }

    [Fact]
    public void Trimmers_come_to_stand_where_all_errors_vanish_in_few_rounds()
    {
        TrimSolver solver = Run(Sheet(), 0.7, 0.2, out int rounds);
        Assert.Equal(0.7, solver.Positions[0], 0.02 / 200); // what 0.02 cents are
        Assert.Equal(0.2, solver.Positions[1], 0.04 / 360);
        Assert.InRange(rounds, 1, 5);
        Assert.DoesNotContain(true, solver.IsStuck);
    }

    [Fact]
    public void A_trimmer_at_its_end_is_given_up_and_the_other_goes_on()
    {
        TrimSolver solver = Run(Sheet(), 1.2, 0.4, out _);
        Assert.Equal(1, solver.Positions[0]);
        Assert.Equal([true, false], solver.IsStuck);
        // The centre is right with the first at its end: 400·(1 − 1.2) + 360·(p − 0.4) = 0.
        Assert.Equal(0.4 + 80.0 / 360, solver.Positions[1], 1e-3);
    }

    [Fact]
    public void What_rounding_the_first_leaves_the_next_takes_up()
    {
        TrimSolver solver = Run(Sheet(0.01), 0.7049, 0.2, out _);
        solver.Round();
        Assert.Equal(0.70, solver.Positions[0], 1e-9);
        // The centre moves by 400·0.0049/360 = 0.0054 the other way, and is then rounded itself: 0.2054 to 0.21.
        Assert.Equal(0.21, solver.Positions[1], 1e-9);
    }
}
