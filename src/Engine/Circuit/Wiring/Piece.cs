using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>
/// One piece of a circuit (a member of a voice) as a circuit of its own, with the rest of the whole standing at the nets
/// that both share as it answers at rest: its currents and their slopes, taken from the whole's operating point. Left
/// out: how the rest moves in time (its own oscillation on the shared supply, capacitance beyond the shared nets), and
/// slopes by which a volt of movement at one shared net moves another by less than <see cref="Coupled"/>.
/// </summary>
public sealed class Piece
{
    private const double Least = 1e-12; // S, where nothing outside holds a shared net

    // V/V. A long link shares dozens of nets: all their couplings would fill the matrix, yet few carry anything. Those of
    // supply and ground stand orders above this, those through an op amp's input and back orders below.
    private const double Coupled = 1e-4;

    private readonly Circuit whole;
    private readonly PartPlace[] inside;
    private readonly bool[] isInside; // unknowns of the whole that only the piece touches
    private readonly int[] ports; // shared nets, as unknowns of the whole
    private readonly int[] fromWhole; // unknown of the piece to unknown of the whole
    private readonly SurroundingsBank surroundings;
    private readonly Pass alone;
    private readonly string[] shared;
    private LuFactors<double>? factors;
    private double[,]? slopeOutside;

    /// <summary>Cuts a piece out of a whole: all parts with that name in front.</summary>
    /// <param name="whole">The whole circuit.</param>
    /// <param name="name">What stands in front of the parts' names, before the slash.</param>
    /// <param name="near">A state of the whole at rest, which shows what couples to what.</param>
    public Piece(Circuit whole, string name, double[] near)
    {
        this.whole = whole;
        string prefix = name + "/";
        Part[] parts = PartsOf(whole.Design, prefix);
        inside = [.. parts.Select(part => whole.Find(part.Name))];
        shared = SharedNets(whole.Design, name);
        ports = [.. shared.Select(whole.Net)];
        isInside = FindInside(parts, prefix, shared);
        alone = whole.NewPass();
        bool[,] couples = Couples(near);
        SurroundingsBank? bank = null;
        Circuit = Engine.Circuit.Circuit.Compile(
            new(name, [.. parts]),
            assembly => bank = new SurroundingsBank(shared, couples, assembly)
        );
        surroundings = bank!;
        Dictionary<string, int> places = [];
        for (int i = 0; i < whole.Length; i++)
            places[whole.Unknowns[i].Name] = i;
        fromWhole = [.. Circuit.Unknowns.Select(unknown => places[unknown.Name])];
    }

    /// <summary>The piece, compiled.</summary>
    public Circuit Circuit { get; }

    /// <summary>The nets that it shares with the rest.</summary>
    public IReadOnlyList<string> Shared => shared;

    /// <summary>What the whole in motion brings to the shared nets beside what <see cref="TakeSurroundings"/> last took, as a
    /// current out of each: the piece's own parts tell what flows there. Read at a state of the whole at whose moment its
    /// latches stand.</summary>
    /// <param name="currents">Receives the share without charges, A.</param>
    /// <param name="charges">Receives what is to be differentiated in time, C.</param>
    public void Brought(double[] x, double time, double[] currents, double[] charges)
    {
        StampInside(x, time, Regime.Motion);
        Span<double> volts = stackalloc double[ports.Length];
        for (int i = 0; i < ports.Length; i++)
            volts[i] = x[ports[i]];
        surroundings.Currents(volts, currents);
        for (int i = 0; i < ports.Length; i++)
            (currents[i], charges[i]) = (-currents[i] - alone.F[ports[i]], -alone.Q[ports[i]]);
    }

    /// <summary>The nets that a piece shares with the rest of a circuit, in the order of its parts.</summary>
    /// <param name="whole">The circuit.</param>
    /// <param name="name">The piece's name.</param>
    public static string[] SharedNets(CircuitDesign whole, string name)
    {
        string prefix = name + "/";
        HashSet<string> outside = [];
        foreach (Part part in whole.Parts)
            if (!part.Name.StartsWith(prefix, StringComparison.Ordinal))
                outside.UnionWith(part.Terminals.Select(joint => joint.Net));
        return
        [
            .. PartsOf(whole, prefix)
                .SelectMany(part => part.Terminals.Select(joint => joint.Net))
                .Where(net => net != CircuitDesign.Ground && outside.Contains(net))
                .Distinct(),
        ];
    }

    private static Part[] PartsOf(CircuitDesign whole, string prefix) => [.. whole.Parts.Where(part => part.Name.StartsWith(prefix, StringComparison.Ordinal))];

    private bool[] FindInside(Part[] parts, string prefix, string[] shared)
    {
        bool[] found = new bool[whole.Length];
        HashSet<string> own = [.. parts.SelectMany(part => part.Terminals.Select(joint => joint.Net)).Except(shared)];
        for (int i = 1; i < found.Length; i++)
        {
            Unknown unknown = whole.Unknowns[i];
            found[i] = unknown.IsInner
                ? unknown.Name.StartsWith(prefix, StringComparison.Ordinal)
                : own.Contains(unknown.Name);
        }
        return found;
    }

    /// <summary>Takes parameters and temperature over from the whole.</summary>
    public void TakeParameters()
    {
        foreach (PartBank bank in Circuit.Banks)
            for (int i = 0; i < bank.Count; i++)
            {
                PartPlace from = whole.Find(bank.Parts[i].Name);
                foreach (string word in bank.Words)
                    bank.Numbers(word)[i] = from.Bank.Words.Contains(word) ? from.Bank.Numbers(word)[from.Index] : bank.Numbers(word)[i];
            }
        Circuit.SetTemperature(whole.Temperature);
    }

    /// <summary>Takes the surroundings from the whole's operating point, and gives the piece's own state there; null
    /// when the rest of the whole has no answer at rest.</summary>
    public double[]? TakeSurroundings(RestState state)
    {
        slopeOutside = SlopeOutside(state.X);
        if (slopeOutside is not { } slope)
            return null;
        double[] currents = [.. ports.Select(port => -alone.F[port])];
        surroundings.Take(currents, slope, [.. ports.Select(port => state.X[port])]);
        Circuit.MarkConstantsStale();
        CopySwitches();
        return [.. fromWhole.Select(i => state.X[i])];
    }

    /// <summary>How a figure of the piece answers to f of every row outside it, given how it answers to a current out of
    /// each of the piece's nets: the surroundings' own adjoint at rest, where they were last taken. What a row outside adds
    /// to f changes the currents at the shared nets; that their slopes change too is left out.</summary>
    public double[] OutsideAdjoint(double[] ofPiece)
    {
        double[,] slope = slopeOutside ?? throw new InvalidOperationException("take the surroundings first");
        double[] right = new double[whole.Length];
        for (int t = 0; t < ports.Length; t++)
            for (int s = 0; s < ports.Length; s++)
                right[ports[t]] += slope[s, t] * ofPiece[Circuit.Net(shared[s])];
        double[] adjoint = new double[whole.Length];
        factors!.SolveTransposed(right, adjoint);
        return adjoint;
    }

    private bool[,] Couples(double[] near)
    {
        double[,]? slope = SlopeOutside(near);
        bool[,] couples = new bool[ports.Length, ports.Length];
        for (int s = 0; s < ports.Length; s++)
            for (int t = 0; t < ports.Length; t++)
                couples[s, t] = slope is null || s == t || Math.Abs(slope[s, t]) > Coupled * Math.Abs(slope[s, s]);
        return couples;
    }

    // Admittances between the shared nets with the piece taken out, S; null when the rest has no answer.
    private double[,]? SlopeOutside(double[] x)
    {
        StampInside(x);
        x.CopyTo(whole.Pass.X, 0);
        whole.Evaluate(0, Regime.Rest);
        double[] outside = whole.Pass.G;
        int[] rows = whole.Pattern.Rows;
        int[] columns = whole.Pattern.Columns;
        for (int slot = 1; slot < outside.Length; slot++)
        {
            (int row, int column) = (rows[slot], columns[slot]);
            if (isInside[row] || isInside[column])
                outside[slot] = row == column ? 1 : 0;
            else
                outside[slot] -= alone.G[slot];
        }
        foreach (int port in ports)
            outside[whole.DiagonalSlot(port)] += Least;
        return Factor(outside) ? Slope() : null;
    }

    private bool Factor(double[] outside)
    {
        if (factors is not null && factors.Factor(outside))
            return true;
        LuProgram? program = LuOrder.Find(whole.Pattern, outside);
        if (program is null)
            return false;
        factors = new(program);
        return factors.Factor(outside);
    }

    private double[,] Slope()
    {
        double[] unit = new double[whole.Length];
        double[] answer = new double[whole.Length];
        Matrix<double> impedance = Matrix<double>.Build.Dense(ports.Length, ports.Length);
        for (int t = 0; t < ports.Length; t++)
        {
            unit[ports[t]] = 1;
            factors!.Solve(unit, answer);
            unit[ports[t]] = 0;
            for (int s = 0; s < ports.Length; s++)
                impedance[s, t] = answer[ports[s]];
        }
        return impedance.Inverse().ToArray();
    }

    private void StampInside(double[] x, double time = 0, Regime regime = Regime.Rest)
    {
        Array.Clear(alone.G);
        Array.Clear(alone.C);
        Array.Clear(alone.F);
        Array.Clear(alone.Q);
        x.CopyTo(alone.X, 0);
        (alone.Regime, alone.Temperature, alone.Time) = (regime, whole.Temperature, time);
        foreach (PartPlace place in inside)
            place.Bank.StampConstant(alone, place.Index, place.Index + 1);
        SparseShare.Multiply(whole.Pattern, alone.G, x, alone.F);
        SparseShare.Multiply(whole.Pattern, alone.C, x, alone.Q);
        foreach (PartPlace place in inside)
            place.Bank.Stamp(alone, place.Index, place.Index + 1);
    }

    // The piece's comparators and switches start as the whole's stand.
    private void CopySwitches()
    {
        foreach (PartBank bank in Circuit.Banks)
            if (bank is ISwitching switching)
                switching.Settle([.. fromWhole.Select(i => whole.Pass.X[i])]);
    }
}
