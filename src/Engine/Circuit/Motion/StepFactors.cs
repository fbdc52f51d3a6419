using Consort.Engine.Circuit.Linear;

namespace Consort.Engine.Circuit.Motion;

/// <summary>The factors of G + C·rate that a step's equations are solved by.</summary>
internal sealed class StepFactors
{
    private const double QuickestFlip = 1e10; // 1/s: what grows faster than that is taken as a jump
    private const double ShortStepRate = 1e13; // 1/s

    private readonly Circuit circuit;
    private readonly Charges charges;
    private readonly double[] matrix; // only where an order is sought
    private bool? shortStepIsNegative; // sign of the determinant for a short step, for the present program
    private LuFactors<double>? factors;

    public StepFactors(Circuit circuit, Charges charges)
    {
        (this.circuit, this.charges) = (circuit, charges);
        matrix = new double[circuit.Pattern.Slots];
        if (circuit.MotionProgram is { } program)
            factors = new(program);
    }

    /// <summary>Factors; a new order is sought when the old one meets a pivot of zero. False when none is found.</summary>
    public bool Factor(double[] g, double[] c, double rate)
    {
        if (factors is not null && factors.Factor(g, rate, c, charges.Slots))
            return true;
        LuProgram? program = LuOrder.Find(circuit.Pattern, Matrix(g, c, rate));
        if (program is null)
            return false;
        circuit.MotionProgram = program;
        factors = new(program);
        shortStepIsNegative = null;
        return factors.Factor(g, rate, c, charges.Slots);
    }

    /// <summary>Solves with the last factors.</summary>
    public void Solve(double[] right, double[] answer) => factors!.Solve(right, answer);

    /// <summary>G + C·rate by slot; valid until the next call.</summary>
    public double[] Matrix(double[] g, double[] c, double rate)
    {
        Array.Copy(g, matrix, matrix.Length);
        charges.AddScaled(c, rate, matrix);
        return matrix;
    }

    /// <summary>A state that grows by itself (a trigger about to flip) is held where it is by steps longer than its growth
    /// takes, as an implicit method damps it. The determinant of the last factors then has another sign than for a short
    /// step.</summary>
    public bool OutrunsFlip(double[] g, double[] c, double rate)
    {
        if (rate > QuickestFlip)
            return false;
        bool isNegative = factors!.IsNegative;
        if (shortStepIsNegative is null)
        {
            bool factored = factors.Factor(g, ShortStepRate, c, charges.Slots);
            shortStepIsNegative = factored ? factors.IsNegative : isNegative;
            factors.Factor(g, rate, c, charges.Slots);
        }
        return isNegative != shortStepIsNegative;
    }
}
