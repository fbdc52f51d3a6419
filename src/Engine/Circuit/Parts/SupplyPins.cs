using System.Runtime.CompilerServices;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Where an output's current comes from: what flows out is taken from the positive supply, what flows in goes to the
/// negative one, with a bend of 10 µA around zero; and the quiescent current between the two.
/// </summary>
internal readonly struct SupplyPins
{
    private const double Bend = 1e-5;

    // Below 3 V between its supplies a part falls asleep.
    private const double Awake = 3;

    private readonly int outRow,
        positiveRow,
        negativeRow;
    private readonly int outByDrive,
        outByOut,
        positiveByDrive,
        positiveByOut,
        negativeByDrive,
        negativeByOut;
    private readonly Quad between;

    public SupplyPins(int drive, int output, int positive, int negative, Assembly at)
    {
        (outRow, positiveRow, negativeRow) = (output, positive, negative);
        (outByDrive, outByOut) = (at.Slot(output, drive), at.Slot(output, output));
        (positiveByDrive, positiveByOut) = (at.Slot(positive, drive), at.Slot(positive, output));
        (negativeByDrive, negativeByOut) = (at.Slot(negative, drive), at.Slot(negative, output));
        between = at.Quad(positive, negative);
    }

    /// <summary>Adds a current that leaves the part at its output and grows with v(drive) − v(output) by g.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void AddOutput(double[] f, double[] matrix, double current, double g)
    {
        double root = Math.Sqrt(current * current + Bend * Bend);
        // (√(i² + b²) ± i)/2, without the difference of two large terms.
        double larger = 0.5 * (Math.Abs(current) + root);
        double smaller = 0.25 * Bend * Bend / larger;
        double given = current > 0 ? larger : smaller;
        double taken = current > 0 ? smaller : larger;
        double gGiven = given / root * g;
        double gTaken = taken / root * g;
        f[outRow] -= current;
        f[positiveRow] += given - 0.5 * Bend;
        f[negativeRow] -= taken - 0.5 * Bend;
        matrix[outByDrive] -= g;
        matrix[outByOut] += g;
        matrix[positiveByDrive] += gGiven;
        matrix[positiveByOut] -= gGiven;
        matrix[negativeByDrive] += gTaken;
        matrix[negativeByOut] -= gTaken;
    }

    /// <summary>Adds the quiescent current at a voltage between the supplies.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void AddQuiescent(double[] f, double[] matrix, double current, double across)
    {
        double awake = current * Smooth.Step(across, Awake, out double slope);
        f[positiveRow] += awake;
        f[negativeRow] -= awake;
        if (slope != 0)
            between.Add(matrix, current * slope);
    }
}
