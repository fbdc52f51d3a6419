namespace Consort.Engine.Circuit.Wiring;

/// <summary>What a piece of a circuit is joined to, as it answers at rest: at each shared net a current
/// i = I₀ + Y·(v − v₀), a Norton equivalent with several ports.</summary>
internal sealed class SurroundingsBank : PartBank
{
    private readonly int[] ports;
    private readonly int[] slots; // row by row
    private readonly double[] admittance; // S, row by row
    private readonly double[] current; // I₀ − Y·v₀, A

    public SurroundingsBank(IReadOnlyList<string> nets, Assembly at)
        : base([])
    {
        ports = [.. nets.Select(at.Net)];
        slots = [.. ports.SelectMany(row => ports.Select(column => at.Slot(row, column)))];
        admittance = new double[slots.Length];
        current = new double[ports.Length];
    }

    /// <summary>Takes new values: currents at the point v₀ and the admittances about it.</summary>
    public void Take(double[] atPoint, double[,] slope, double[] point)
    {
        int n = ports.Length;
        for (int s = 0; s < n; s++)
        {
            current[s] = atPoint[s];
            for (int t = 0; t < n; t++)
            {
                admittance[s * n + t] = slope[s, t];
                current[s] -= slope[s, t] * point[t];
            }
        }
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
