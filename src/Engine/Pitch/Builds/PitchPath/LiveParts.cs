using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>Finds the parts whose bend shows in the pitch of builds: those that may not be replaced by their tangent at the
/// design's own middle note.</summary>
internal static class LiveParts
{
    private const double Shows = 1e-3; // cents
    private const int Trials = 3;

    // Linear at rest whatever the state.
    private static readonly HashSet<string> Straight =
    [
        "resistor", "potentiometer", "trimmer", "selector", "capacitor", "inductor", "jack", "cord", "ribbon", "header", "power", "matched pair",
    ];

    /// <summary>The parts of a circuit that bend at all.</summary>
    public static PartAlone[] Bendable(Circuit.Circuit circuit) =>
        [.. circuit.Design.Parts.Where(part => !Straight.Contains(part.Kind.Word) && circuit.Has(part.Name)).Select(part => new PartAlone(circuit, circuit.Find(part.Name)))];

    /// <summary>The parts that must be solved as they are for one oscillator.</summary>
    public static IEnumerable<PartAlone> Find(Circuit.Circuit circuit, RestAnswers answers, PathReach reach, DrawPlan draws, PartAlone[] bendable) =>
        bendable.Where(alone =>
        {
            // A move that the part's own parameter makes goes with that parameter: by itself it would be a fight.
            Part part = alone.Place.Bank.Parts[alone.Place.Index];
            bool[] isOwn = [.. reach.Parameters.Select(p => draws.Parameters[p].Part == part)];
            return Bend(circuit, answers, reach, alone, isOwn) > Shows;
        });

    // What the part's own curvature, and the change of its slope over the keyboard, adds to the pitch of a build, cents.
    private static double Bend(Circuit.Circuit circuit, RestAnswers answers, PathReach reach, PartAlone alone, bool[] isOwn)
    {
        RestPoints points = answers.Points;
        double[] slope = SlopeAt(alone, points.X[0][points.Middle]);
        double most = 0;
        RandomBits bits = new(1);
        ulong draw = 0;
        for (int n = 0; n < answers.Notes.Length; n++)
        {
            double[] x = points.X[0][answers.Notes[n]];
            double[] own = ValueAt(alone, x);
            for (int trial = 0; trial < Trials; trial++)
            {
                double[] moves = new double[x.Length];
                for (int d = 0; d < reach.Directions[n].Length; d++)
                {
                    double share = d < isOwn.Length && isOwn[d] ? 0 : 2 * RandomBits.Share(bits.At(draw++)) - 1;
                    foreach (int column in alone.Columns)
                        moves[column] += share * reach.Directions[n][d][column];
                }
                most = Math.Max(most, Math.Abs(Project(circuit.Pattern, alone, reach.Adjoints[n], x, own, slope, moves)));
            }
        }
        return most;
    }

    private static double[] SlopeAt(PartAlone alone, double[] x)
    {
        ValueAt(alone, x);
        return [.. alone.Slots.Select(slot => alone.G[slot])];
    }

    private static double[] ValueAt(PartAlone alone, double[] x)
    {
        alone.Evaluate(x);
        return [.. alone.Rows.Select(row => alone.F[row])];
    }

    private static double Project(SparsePattern pattern, PartAlone alone, double[] adjoint, double[] x, double[] own, double[] slope, double[] moves)
    {
        foreach (int column in alone.Columns)
            alone.X[column] = x[column] + moves[column];
        alone.Evaluate();
        double sum = 0;
        for (int i = 0; i < alone.Rows.Length; i++)
            sum += adjoint[alone.Rows[i]] * (alone.F[alone.Rows[i]] - own[i]);
        for (int i = 0; i < slope.Length; i++)
        {
            int slot = alone.Slots[i];
            sum -= adjoint[pattern.Rows[slot]] * slope[i] * moves[pattern.Columns[slot]];
        }
        return sum;
    }
}
