namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>One point of the unit cube for every build: a number between 0 and 1 for each thing that varies by itself.</summary>
public abstract class UnitPoints
{
    /// <summary>How the points were chosen, seed included, for people.</summary>
    public abstract string Name { get; }

    /// <summary>One dimension of the points of neighbouring builds. It depends on the dimension and the builds' numbers
    /// alone.</summary>
    /// <param name="dimension">From 0.</param>
    /// <param name="first">Number of the first build, from 0.</param>
    /// <param name="into">Room for as many builds as are wanted.</param>
    public abstract void Fill(int dimension, long first, Span<double> into);
}

/// <summary>Plain pseudo-random points.</summary>
public sealed class RandomPoints(ulong seed) : UnitPoints
{
    private readonly RandomBits bits = new(seed);

    /// <inheritdoc/>
    public override string Name => $"pseudo-random, seed {seed}";

    /// <inheritdoc/>
    public override void Fill(int dimension, long first, Span<double> into)
    {
        RandomBits own = bits.Stream((ulong)dimension);
        for (int b = 0; b < into.Length; b++)
            into[b] = RandomBits.Share(own.At((ulong)(first + b)));
    }
}
