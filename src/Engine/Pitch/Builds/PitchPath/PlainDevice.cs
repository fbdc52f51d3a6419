using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>Any part, one lane after the other, by its own bank: for kinds without a law in lanes. Slow and exact.</summary>
internal sealed class PlainDevice<T> : LiveDevice<T>
    where T : struct, ILanes<T>
{
    private readonly PathPlan plan;
    private readonly LivePart part;
    private readonly PartAlone alone;
    private readonly int[] slotRows;
    private readonly int[] slotColumns;
    private readonly double[] nominal;
    private readonly double[] values;
    private readonly double[][][] own;
    private readonly double[] f;
    private readonly double[] g;
    private readonly double[] moved;
    private readonly int width;
    private int at;

    public PlainDevice(PathPlan plan, LivePart part, Circuit.Circuit circuit, PartPlace place)
    {
        (this.plan, this.part) = (plan, part);
        alone = new(circuit, place);
        width = plan.Elimination.Rows.Length;
        slotRows = [.. alone.Slots.Select(slot => Place(part.RowUnknowns, part.Rows, circuit.Pattern.Rows[slot]))];
        slotColumns = [.. alone.Slots.Select(slot => Place(part.Nodes, part.Columns, circuit.Pattern.Columns[slot]))];
        nominal = [.. part.Parameters.Select(pair => place.Bank.Numbers(pair.Word)[place.Index])];
        values = new double[part.Parameters.Length * T.Count];
        f = new double[part.Rows.Length * T.Count];
        g = new double[alone.Slots.Count * T.Count];
        moved = new double[T.Count];
        own = [.. plan.Kelvins.Select((_, k) => plan.Volts.Select((_, n) => OwnAt(k, n)).ToArray())];
    }

    private static int Place(int[] unknowns, int[] places, int unknown) =>
        Array.IndexOf(unknowns, unknown) is >= 0 and int at ? places[at] : -1;

    private double[] OwnAt(int k, int n)
    {
        alone.Kelvin = plan.Kelvins[k];
        alone.Place.Bank.Prepare(plan.Kelvins[k], alone.Place.Index, alone.Place.Index + 1);
        foreach (int node in part.Nodes)
            alone.X[node] = plan.Points.X[k][n][node];
        alone.Evaluate();
        return [.. part.RowUnknowns.Select(row => alone.F[row])];
    }

    public override void Prepare(int k, ReadOnlySpan<T> departures)
    {
        at = k;
        alone.Kelvin = plan.Kelvins[k];
        for (int i = 0; i < part.Parameters.Length; i++)
        {
            Span<double> lanes = values.AsSpan(i * T.Count, T.Count);
            T.Store(departures[part.Parameters[i].Parameter], lanes);
            foreach (ref double lane in lanes)
                lane = plan.Parameters[part.Parameters[i].Parameter].Value(lane);
        }
        alone.Place.Bank.Prepare(alone.Kelvin, alone.Place.Index, alone.Place.Index + 1);
    }

    public override void Add(int n, ReadOnlySpan<T> moves, Span<T> f, Span<T> slopes)
    {
        for (int lane = 0; lane < T.Count; lane++)
            Evaluate(lane, n, moves);
        for (int i = 0; i < part.Rows.Length; i++)
            if (part.Rows[i] >= 0)
                f[part.Rows[i]] += T.From(this.f.AsSpan(i * T.Count, T.Count));
        for (int s = 0; s < slotRows.Length; s++)
            if (slotRows[s] >= 0 && slotColumns[s] >= 0)
                slopes[slotRows[s] * width + slotColumns[s]] += T.From(g.AsSpan(s * T.Count, T.Count));
    }

    private void Evaluate(int lane, int n, ReadOnlySpan<T> moves)
    {
        PartPlace place = alone.Place;
        for (int i = 0; i < nominal.Length; i++)
            place.Bank.Numbers(part.Parameters[i].Word)[place.Index] = values[i * T.Count + lane];
        if (nominal.Length > 0)
            place.Bank.Prepare(alone.Kelvin, place.Index, place.Index + 1);
        for (int i = 0; i < part.Nodes.Length; i++)
        {
            double move = 0;
            if (part.Columns[i] >= 0)
            {
                T.Store(moves[part.Columns[i]], moved);
                move = moved[lane];
            }
            alone.X[part.Nodes[i]] = plan.Points.X[at][n][part.Nodes[i]] + move;
        }
        alone.Evaluate();
        for (int i = 0; i < part.RowUnknowns.Length; i++)
            f[i * T.Count + lane] = alone.F[part.RowUnknowns[i]] - own[at][n][i];
        for (int s = 0; s < alone.Slots.Count; s++)
            g[s * T.Count + lane] = alone.G[alone.Slots[s]];
        for (int i = 0; i < nominal.Length; i++)
            place.Bank.Numbers(part.Parameters[i].Word)[place.Index] = nominal[i];
    }
}
