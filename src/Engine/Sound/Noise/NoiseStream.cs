using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Sound.Noise;

/// <summary>Normal numbers of mean 0 and variance 1, each a function of its seed, its stream and its place alone. Those last
/// asked for are kept, neighbours with them: several may ask for the same ones in turn, a block at a time.</summary>
internal sealed class NoiseStream
{
    private const int Group = 256;

    // The law's quantile at even steps, joined by straight lines; beyond these, where it bends, by itself. Between them the
    // lines err by 3e-4 at most.
    private const int Steps = 4096;
    private const int Outer = 24;
    private static readonly double[] Table = [.. Enumerable.Range(0, Steps + 1).Select(i => i is 0 or Steps ? 0 : Quantile((double)i / Steps))];

    private readonly RandomBits bits;
    private readonly double[][] values = [new double[Group], new double[Group]]; // two groups: a block may lie across two
    private readonly long[] firsts = [-1, -1];

    public NoiseStream(ulong seed, ulong number) => bits = new RandomBits(seed).Stream(number);

    /// <summary>The number at a place, from 0.</summary>
    public double At(long place) => GroupOf(place)[(int)(place & (Group - 1))];

    /// <summary>Adds the numbers from a place on, times a factor.</summary>
    public void AddTo(Span<double> samples, long place, double times)
    {
        while (!samples.IsEmpty)
        {
            ReadOnlySpan<double> numbers = GroupOf(place).AsSpan((int)(place & (Group - 1)));
            int count = Math.Min(numbers.Length, samples.Length);
            for (int i = 0; i < count; i++)
                samples[i] += times * numbers[i];
            samples = samples[count..];
            place += count;
        }
    }

    private double[] GroupOf(long place)
    {
        int slot = (int)(place / Group & 1);
        if (firsts[slot] != (place & -Group))
            Fill(slot, place & -Group);
        return values[slot];
    }

    private void Fill(int slot, long first)
    {
        Span<double> group = values[slot];
        for (int i = 0; i < group.Length; i++)
        {
            double share = RandomBits.Share(bits.At((ulong)(first + i)));
            double at = share * Steps;
            int step = (int)at;
            group[i] = step is >= Outer and < Steps - Outer ? Table[step] + (at - step) * (Table[step + 1] - Table[step]) : Quantile(share);
        }
        firsts[slot] = first;
    }

    private static double Quantile(double share)
    {
        Span<double> lanes = [share, share, share, share];
        Four.Store(NormalLaw.Quantile(Four.From(lanes)), lanes);
        return lanes[0];
    }
}
