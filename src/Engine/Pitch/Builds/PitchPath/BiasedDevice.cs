using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Parts;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>
/// An amplifier whose currents are all shares of one bias current, that of the junctions from its bias pin to the negative
/// supply: i = Ib(v)·(h + Σ ∂h/∂x·δ). The exponential is exact; the shares follow the other voltages at their slope in the
/// design. The input's offset moves the shares likewise.
/// </summary>
internal sealed class BiasedDevice<T> : LiveDevice<T>
    where T : struct, ILanes<T>
{
    private readonly LivePart part;
    private readonly int width;
    private readonly int bias;
    private readonly int negative;
    private readonly double[] slope; // n·VT by temperature
    private readonly double[][] current; // Ib of the design by temperature and note
    private readonly double[][] saturation;
    private readonly double[][][] shares; // by temperature, note and row
    private readonly double[][][] byNode; // by temperature, note, and row·nodes + node
    private readonly (int Parameter, double[][][] Slopes)[] byParameter;
    private readonly T[] departuresNow;
    private int at;

    public BiasedDevice(PathPlan plan, LivePart part, Circuit.Circuit circuit, PartPlace place)
    {
        this.part = part;
        width = plan.Elimination.Rows.Length;
        PartAlone alone = new(circuit, place);
        OtaBank bank = (OtaBank)place.Bank;
        (bias, negative) = bank.BiasNodes(place.Index);
        int notes = plan.Volts.Length;
        slope = new double[plan.Kelvins.Length];
        (current, saturation) = (Make(() => new double[notes]), Make(() => new double[notes]));
        (shares, byNode) = (Make(() => new double[notes][]), Make(() => new double[notes][]));
        byParameter = [.. part.Parameters.Select(pair => (pair.Parameter, Make(() => new double[notes][])))];
        departuresNow = new T[byParameter.Length];
        PartSlopes slopes = new(circuit);
        for (int k = 0; k < plan.Kelvins.Length; k++)
        {
            circuit.SetTemperature(plan.Kelvins[k]);
            alone.Kelvin = plan.Kelvins[k];
            for (int n = 0; n < notes; n++)
                Take(plan.Points.X[k][n], k, n, alone, bank, circuit, slopes);
        }

        TItem[] Make<TItem>(Func<TItem> make) => [.. plan.Kelvins.Select(_ => make())];
    }

    private void Take(double[] x, int k, int n, PartAlone alone, OtaBank bank, Circuit.Circuit circuit, PartSlopes slopes)
    {
        foreach (int node in part.Nodes)
            alone.X[node] = x[node];
        alone.Evaluate();
        (double ib, double isat, slope[k]) = bank.BiasAt(alone.Place.Index, x[bias] - x[negative]);
        (current[k][n], saturation[k][n]) = (ib, isat);
        shares[k][n] = [.. part.RowUnknowns.Select(row => alone.F[row] / ib)];
        double[] by = new double[part.RowUnknowns.Length * part.Nodes.Length];
        foreach (int slot in alone.Slots)
        {
            int row = Array.IndexOf(part.RowUnknowns, circuit.Pattern.Rows[slot]);
            int node = Array.IndexOf(part.Nodes, circuit.Pattern.Columns[slot]);
            if (row >= 0 && node >= 0)
                by[row * part.Nodes.Length + node] = alone.G[slot] / ib;
        }
        // What of it comes through Ib itself.
        double perSlope = (ib + isat) / (slope[k] * ib);
        for (int row = 0; row < part.RowUnknowns.Length; row++)
            for (int node = 0; node < part.Nodes.Length; node++)
                by[row * part.Nodes.Length + node] -=
                    shares[k][n][row] * perSlope * (part.Nodes[node] == bias ? 1 : part.Nodes[node] == negative ? -1 : 0);
        byNode[k][n] = by;
        for (int p = 0; p < byParameter.Length; p++)
        {
            RowSlopes own = slopes.At(alone.Place, part.Parameters[p].Word, x);
            byParameter[p].Slopes[k][n] = [.. part.RowUnknowns.Select(row => Array.IndexOf(own.Rows, row) is >= 0 and int i ? own.Values[i] / ib : 0)];
        }
    }

    public override void Prepare(int k, ReadOnlySpan<T> departures)
    {
        at = k;
        for (int p = 0; p < byParameter.Length; p++)
            departuresNow[p] = departures.IsEmpty ? T.Of(0) : departures[byParameter[p].Parameter];
    }

    public override void Add(int n, ReadOnlySpan<T> moves, Span<T> f, Span<T> slopes)
    {
        int nodes = part.Nodes.Length;
        T v = T.Of(0);
        for (int i = 0; i < nodes; i++)
            if (part.Columns[i] >= 0 && part.Nodes[i] == bias)
                v += moves[part.Columns[i]];
            else if (part.Columns[i] >= 0 && part.Nodes[i] == negative)
                v -= moves[part.Columns[i]];
        T whole = T.Of(current[at][n] + saturation[at][n]);
        T rise = whole * LaneMath.Exp(v * T.Of(1 / slope[at]));
        T ib = rise - T.Of(saturation[at][n]);
        T g = rise * T.Of(1 / slope[at]);
        for (int r = 0; r < part.Rows.Length; r++)
        {
            int row = part.Rows[r];
            if (row < 0)
                continue;
            T share = T.Of(shares[at][n][r]);
            for (int p = 0; p < byParameter.Length; p++)
                share = T.Fma(departuresNow[p], T.Of(byParameter[p].Slopes[at][n][r]), share);
            for (int i = 0; i < nodes; i++)
                if (part.Columns[i] >= 0)
                    share = T.Fma(moves[part.Columns[i]], T.Of(byNode[at][n][r * nodes + i]), share);
            f[row] += ib * share - T.Of(current[at][n] * shares[at][n][r]);
            for (int i = 0; i < nodes; i++)
            {
                int column = part.Columns[i];
                if (column < 0)
                    continue;
                T by = ib * T.Of(byNode[at][n][r * nodes + i]);
                if (part.Nodes[i] == bias)
                    by += g * share;
                else if (part.Nodes[i] == negative)
                    by -= g * share;
                slopes[row * width + column] += by;
            }
        }
    }
}
