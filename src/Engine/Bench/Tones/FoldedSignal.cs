namespace Consort.Engine.Bench.Tones;

/// <summary>
/// A piece of recording with its time counted from its middle, in samples, and folded there: even and odd halves. Cosines
/// then meet the even half alone and sines the odd one, so that every sum is half as long and every system half as wide.
/// </summary>
internal sealed class FoldedSignal
{
    private readonly double[] samples;

    /// <summary>Folds; the mean is taken off first, so that sums keep their digits.</summary>
    public FoldedSignal(ReadOnlySpan<double> recording)
    {
        samples = recording.ToArray();
        double sum = 0;
        foreach (double sample in samples)
            sum += sample;
        Mean = samples.Length == 0 ? 0 : sum / samples.Length;
        for (int i = 0; i < samples.Length; i++)
            samples[i] -= Mean;
        Half = samples.Length / 2;
        (Even, Odd, EvenTimes, OddTimes) = (new double[Half], new double[Half], new double[Half], new double[Half]);
        Fold();
    }

    /// <summary>How many samples.</summary>
    public int Count => samples.Length;

    /// <summary>Pairs of samples that lie opposite each other.</summary>
    public int Half { get; }

    /// <summary>What was taken off.</summary>
    public double Mean { get; }

    /// <summary>Time of the first pair, samples from the middle: 1 when a sample stands in the middle, else a half.</summary>
    public double First => (Count & 1) == 1 ? 1 : 0.5;

    /// <summary>The sample in the middle; 0 when there is none.</summary>
    public double Middle => (Count & 1) == 1 ? samples[Half] : 0;

    /// <summary>y(m) + y(−m) for each pair, outwards.</summary>
    public double[] Even { get; }

    /// <summary>y(m) − y(−m).</summary>
    public double[] Odd { get; }

    /// <summary>m·(y(m) + y(−m)).</summary>
    public double[] EvenTimes { get; }

    /// <summary>m·(y(m) − y(−m)).</summary>
    public double[] OddTimes { get; }

    /// <summary>Sum of squares, the mean taken off.</summary>
    public double Energy { get; private set; }

    /// <summary>The samples in their order, the mean taken off.</summary>
    public ReadOnlySpan<double> Samples => samples;

    private void Fold()
    {
        int right = Count - Half;
        for (int h = 0; h < Half; h++)
        {
            double after = samples[right + h], before = samples[Half - 1 - h], time = First + h;
            Even[h] = after + before;
            Odd[h] = after - before;
            EvenTimes[h] = time * Even[h];
            OddTimes[h] = time * Odd[h];
        }
        Energy = 0;
        foreach (double sample in samples)
            Energy += sample * sample;
    }
}
