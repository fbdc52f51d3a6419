using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Sound.Noise;

/// <summary>Normal numbers of mean 0 and variance 1, each a function of its seed, its stream and its place alone.</summary>
internal sealed class NoiseStream
{
    private const int Lanes = 4;

    private readonly RandomBits bits;
    private readonly double[] values = new double[Lanes];
    private long first = -1;

    public NoiseStream(ulong seed, ulong number) => bits = new RandomBits(seed).Stream(number);

    /// <summary>The number at a place, from 0; neighbours are made together.</summary>
    public double At(long place)
    {
        long group = place / Lanes * Lanes;
        if (group != first)
            Fill(group);
        return values[place - group];
    }

    private void Fill(long group)
    {
        Span<double> shares = stackalloc double[Lanes];
        for (int i = 0; i < Lanes; i++)
            shares[i] = RandomBits.Share(bits.At((ulong)(group + i)));
        Four.Store(NormalLaw.Quantile(Four.From(shares)), values);
        first = group;
    }
}
