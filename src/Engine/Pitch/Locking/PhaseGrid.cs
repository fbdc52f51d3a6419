using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Locking;

/// <summary>An amount spread over one turn of phase, in even cells.</summary>
internal sealed class PhaseGrid(int count)
{
    // Shorter stretches than this share of a cell are dropped as one: they may lie across its border.
    private const double Point = 1e-3;

    /// <summary>What each cell holds.</summary>
    public double[] Cells { get; } = new double[count];

    /// <summary>The same amount in fewer cells, each of which takes so many of these.</summary>
    public static double[] Folded(double[] cells, int many) => [.. cells.Chunk(many).Select(chunk => chunk.Sum())];

    /// <summary>Adds an amount at one phase, turns.</summary>
    public void Drop(double phase, double amount)
    {
        Cells[Math.Min(count - 1, (int)(Turns.Part(phase) * count))] += amount;
    }

    /// <summary>Adds an amount evenly over a stretch of phase.</summary>
    public void Spread(double from, double length, double amount)
    {
        if (length * count < Point)
        {
            Drop(from, amount);
            return;
        }
        double start = Turns.Part(from) * count;
        double end = start + length * count;
        double perCell = amount / (end - start);
        for (long cell = (long)start; cell < end; cell++)
            Cells[cell % count] += perCell * (Math.Min(end, cell + 1) - Math.Max(start, cell));
    }
}
