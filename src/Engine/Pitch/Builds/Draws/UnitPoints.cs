namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>One point of the unit cube for every build: a number between 0 and 1 for each thing that varies by itself.</summary>
public abstract class UnitPoints
{
    /// <summary>How the points were chosen, seed included, for people.</summary>
    public abstract string Name { get; }

    /// <summary>The points of neighbouring builds, dimension by dimension: entry d·builds + b. They depend on the builds'
    /// numbers alone.</summary>
    /// <param name="first">Number of the first build, from 0.</param>
    /// <param name="builds">How many.</param>
    /// <param name="into">Room for all dimensions times builds; its length says how many dimensions are wanted.</param>
    public abstract void Fill(long first, int builds, Span<double> into);
}

/// <summary>Plain pseudo-random points.</summary>
public sealed class RandomPoints(ulong seed) : UnitPoints
{
    private readonly RandomBits bits = new(seed);

    /// <inheritdoc/>
    public override string Name => $"pseudo-random, seed {seed}";

    /// <inheritdoc/>
    public override void Fill(long first, int builds, Span<double> into)
    {
        int at = 0;
        for (ulong d = 0; at < into.Length; d++)
        {
            RandomBits own = bits.Stream(d);
            for (int b = 0; b < builds; b++)
                into[at++] = RandomBits.Share(own.At((ulong)(first + b)));
        }
    }
}
