using System.Numerics;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Rest;

namespace Consort.Engine.Circuit.Signal;

/// <summary>How stable the loop around one op amp is, with all other loops closed.</summary>
/// <param name="PeakingDb">Largest |T/(1+T)| over frequency, dB; infinity when the loop is unstable.</param>
/// <param name="AtHertz">Where.</param>
/// <param name="PhaseMarginDegrees">At the highest frequency where |T| = 1; NaN when it never is.</param>
public readonly record struct LoopStability(double PeakingDb, double AtHertz, double PhaseMarginDegrees);

/// <summary>
/// The return ratio T of an op amp's gain (Bode, Network Analysis and Feedback Amplifier Design, 1945; Hurst, IEEE Trans.
/// CAS-38 (1991) 1234): with M the matrix at a frequency and g the entry by which the inputs drive the inner stage,
/// T/(1+T) = g·(M⁻¹e)₊₋, one solve for each frequency.
/// </summary>
public sealed class LoopGain
{
    private const double LowHertz = 1e3;
    private const double HighHertz = 1e8;

    private readonly Circuit circuit;
    private readonly double[] g;
    private readonly double[] c;
    private readonly Complex[] matrix;
    private readonly Complex[] unit;
    private readonly Complex[] answer;
    private LuFactors<Complex>? factors;

    /// <summary>Linearises a circuit at a state.</summary>
    public LoopGain(Circuit circuit, RestState at)
    {
        this.circuit = circuit;
        at.X.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(0, Regime.Motion);
        g = (double[])circuit.Pass.G.Clone();
        c = (double[])circuit.Pass.C.Clone();
        matrix = new Complex[g.Length];
        unit = new Complex[circuit.Length];
        answer = new Complex[circuit.Length];
    }

    /// <summary>Looks at several op amps over a range of frequencies with a number of points to the decade.</summary>
    public LoopStability[] Of(IReadOnlyList<string> opAmps, int perDecade = 16)
    {
        (int Row, int Plus, int Minus)[] loops = [.. opAmps.Select(Locate)];
        LoopFollower[] followers = [.. loops.Select(_ => new LoopFollower())];
        int points = (int)Math.Round(perDecade * Math.Log10(HighHertz / LowHertz));
        for (int k = 0; k <= points; k++)
        {
            double hertz = LowHertz * Math.Pow(HighHertz / LowHertz, (double)k / points);
            if (!Factor(hertz))
                continue;
            for (int i = 0; i < loops.Length; i++)
                followers[i].Add(hertz, ClosedShare(loops[i]));
        }
        return [.. followers.Select(follower => follower.Result())];
    }

    // The inner stage's row: the one inner unknown of the op amp whose equation both inputs enter.
    private (int Row, int Plus, int Minus) Locate(string opAmp)
    {
        PartPlace place = circuit.Find(opAmp);
        int plus = circuit.Net(place.Bank.Parts[place.Index].NetAt("plus")!);
        int minus = circuit.Net(place.Bank.Parts[place.Index].NetAt("minus")!);
        for (int row = 1; row < circuit.Length; row++)
            if (
                circuit.Unknowns[row].IsInner
                && circuit.Unknowns[row].Name.StartsWith(opAmp + " ", StringComparison.Ordinal)
                && (Entry(row, plus) != 0 || Entry(row, minus) != 0)
            )
                return (row, plus, minus);
        throw new KeyNotFoundException($"{opAmp} has no inner stage");
    }

    private double Entry(int row, int column)
    {
        for (int slot = 1; slot < g.Length; slot++)
            if (circuit.Pattern.Rows[slot] == row && circuit.Pattern.Columns[slot] == column)
                return g[slot];
        return 0;
    }

    private Complex ClosedShare((int Row, int Plus, int Minus) loop)
    {
        Array.Clear(unit);
        unit[loop.Row] = 1;
        factors!.Solve(unit, answer);
        return Entry(loop.Row, loop.Plus) * answer[loop.Plus] + Entry(loop.Row, loop.Minus) * answer[loop.Minus];
    }

    private bool Factor(double hertz)
    {
        double omega = 2 * Math.PI * hertz;
        for (int i = 1; i < matrix.Length; i++)
            matrix[i] = new(g[i], omega * c[i]);
        if (factors is not null && factors.Factor(matrix))
            return true;
        double[] sizes = new double[matrix.Length];
        for (int i = 1; i < sizes.Length; i++)
            sizes[i] = Complex.Abs(matrix[i]);
        LuProgram? program = LuOrder.Find(circuit.Pattern, sizes);
        if (program is null)
            return false;
        factors = new(program);
        return factors.Factor(matrix);
    }

    // Follows T with rising frequency: its phase is unwrapped, so that a turn past -180° with |T| > 1 is seen.
    private sealed class LoopFollower
    {
        private double phase;
        private double lastSize = double.NaN;
        private double margin = double.NaN;
        private double largest;
        private double at;
        private Complex last;

        public void Add(double hertz, Complex closed)
        {
            Complex t = closed / (1 - closed);
            double size = Complex.Abs(t);
            double before = phase;
            phase = double.IsNaN(lastSize) ? t.Phase : phase + (t / last).Phase;
            if (lastSize >= 1 && size < 1)
            {
                double share = Math.Log(lastSize) / Math.Log(lastSize / size);
                double crossing = (before + share * (phase - before)) * 180 / Math.PI;
                margin = double.IsNaN(margin) ? 180 + crossing : Math.Min(margin, 180 + crossing);
            }
            (lastSize, last) = (size, t);
            if (Complex.Abs(closed) > largest)
                (largest, at) = (Complex.Abs(closed), hertz);
        }

        public LoopStability Result() =>
            new(margin < 0 ? double.PositiveInfinity : Math.Max(0, 20 * Math.Log10(largest)), at, margin);
    }
}
