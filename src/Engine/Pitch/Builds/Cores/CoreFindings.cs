using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>What was found of a core, for all φ of the voice: its parameters and then its trimmers.</summary>
/// <param name="Currents">Known currents, by temperature, A.</param>
/// <param name="Slopes">g by temperature, known current and φ, cents.</param>
/// <param name="Acts">φ that act in the core.</param>
/// <param name="Curves">What movers do past the slopes.</param>
/// <param name="Pairs">What two movers do together past all that.</param>
internal sealed record CoreFindings(double[][] Currents, double[][][] Slopes, bool[] Acts, CoreCurve[] Curves, CorePair[] Pairs)
{
    /// <summary>U − U₀ at the bench's temperature with movers moved, by known current, cents.</summary>
    public double[] Moved(DrawPlan draws, IReadOnlyList<(Mover Mover, double D)> stand)
    {
        double[] moved = new double[Slopes[0].Length];
        for (int j = 0; j < moved.Length; j++)
        {
            foreach ((Mover mover, double d) in stand)
                moved[j] += mover.At(draws, d).Sum(move => Slopes[0][j][move.Phi] * move.Move);
            foreach (CoreCurve curve in Curves)
                foreach ((Mover mover, double d) in stand.Where(s => ReferenceEquals(s.Mover, curve.Mover)))
                    moved[j] += CoreCurve.At(curve.Own[j], new One(d)).Value + Crossed(draws, curve, j, d, stand);
            foreach (CorePair pair in Pairs)
                moved[j] += pair.Coefficients[j].At(new One(Stands(stand, Curves[pair.First].Mover)), new One(Stands(stand, Curves[pair.Second].Mover))).Value;
        }
        return moved;
    }

    private static double Crossed(DrawPlan draws, CoreCurve curve, int j, double d, IReadOnlyList<(Mover Mover, double D)> stand) =>
        stand.Sum(s => s.Mover.At(draws, s.D).Sum(move => d * (curve.Others[j].First[move.Phi] + d * curve.Others[j].Second[move.Phi]) * move.Move));

    private static double Stands(IReadOnlyList<(Mover Mover, double D)> stand, Mover mover) =>
        stand.FirstOrDefault(s => ReferenceEquals(s.Mover, mover)).D;
}
