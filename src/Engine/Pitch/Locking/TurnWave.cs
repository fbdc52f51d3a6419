using System.Numerics;

namespace Consort.Engine.Pitch.Locking;

/// <summary>What goes on over one turn of phase, by cell; its harmonics are worked out once, when they are asked for.</summary>
internal sealed class TurnWave
{
    private readonly Lazy<Complex[]> harmonics;

    /// <summary>Of an even number of cells.</summary>
    public TurnWave(double[] cells)
    {
        harmonics = new(() => RealTransform.Forward(cells));
        Sum = cells.Sum();
        double mean = Sum / cells.Length;
        foreach (double cell in cells)
        {
            Area += Math.Abs(cell - mean);
            Most = Math.Max(Most, Math.Abs(cell - mean));
        }
    }

    /// <summary>Of all cells.</summary>
    public double Sum { get; }

    /// <summary>Sum of the departures from the mean, all counted as positive.</summary>
    public double Area { get; }

    /// <summary>The largest departure from the mean.</summary>
    public double Most { get; }

    /// <summary>From the mean up to that of half the number of cells.</summary>
    public Complex[] Harmonics => harmonics.Value;
}
