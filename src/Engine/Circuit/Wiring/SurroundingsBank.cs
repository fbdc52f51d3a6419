namespace Consort.Engine.Circuit.Wiring;

/// <summary>What a piece of a circuit is joined to, as it answers at rest: at each shared net a current
/// i = I₀ + Y·(v − v₀), a Norton equivalent with several ports, of whose couplings only those named are kept.</summary>
internal sealed class SurroundingsBank : PartBank
{
    private readonly int[] ports;
    private readonly (int Row, int Column)[] kept; // ports that couple, row by row
    private readonly int[] slots;
    private readonly double[] admittance; // S
    private readonly double[] current; // I₀ − Y·v₀, A

    public SurroundingsBank(IReadOnlyList<string> nets, bool[,] couples, Assembly at)
        : base([])
    {
        ports = [.. nets.Select(at.Net)];
        kept =
        [
            .. Enumerable
                .Range(0, ports.Length)
                .SelectMany(row => Enumerable.Range(0, ports.Length).Select(column => (Row: row, Column: column)))
                .Where(pair => couples[pair.Row, pair.Column]),
        ];
        slots = [.. kept.Select(pair => at.Slot(ports[pair.Row], ports[pair.Column]))];
        admittance = new double[slots.Length];
        current = new double[ports.Length];
    }

    /// <summary>Takes new values: currents at the point v₀ and the admittances about it.</summary>
    public void Take(double[] atPoint, double[,] slope, double[] point)
    {
        atPoint.CopyTo(current, 0);
        for (int i = 0; i < kept.Length; i++)
        {
            (int row, int column) = kept[i];
            admittance[i] = slope[row, column];
            current[row] -= slope[row, column] * point[column];
        }
    }

    /// <summary>The current that it takes out of each shared net at given voltages there, A.</summary>
    public void Currents(ReadOnlySpan<double> volts, Span<double> into)
    {
        current.CopyTo(into);
        for (int i = 0; i < kept.Length; i++)
            into[kept[i].Row] += admittance[i] * volts[kept[i].Column];
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = 0; i < slots.Length; i++)
            pass.G[slots[i]] += admittance[i];
    }

    public override void Stamp(Pass pass, int first, int end)
    {
        for (int i = 0; i < ports.Length; i++)
            pass.F[ports[i]] += current[i];
    }
}
