using System.Numerics;

namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>
/// Sobol's quasi-random points, in the order of Gray's code (Bratley and Fox, ACM Trans. Math. Softw. 14 (1988) 88). With a
/// seed every dimension is scrambled by a random lower-triangular matrix over its bits and a random shift (Matoušek, J.
/// Complexity 14 (1998) 527): each point is then uniform by itself, and the variance of means is that of Owen's nested
/// scrambling (Owen, ACM Trans. Model. Comput. Simul. 13 (2003) 363; both from memory). Dimensions past the table's are
/// pseudo-random; without a seed there are none.
/// </summary>
public sealed class SobolPoints : UnitPoints
{
    private const double Least = 1.0 / (1UL << SobolTable.Bits);

    private readonly ulong? seed;
    private readonly ulong[][] directions;
    private readonly ulong[] shifts;
    private readonly RandomPoints? rest;

    private SobolPoints(int dimensions, ulong? seed)
    {
        this.seed = seed;
        rest = seed is { } s ? new(s) : null;
        directions = [.. Enumerable.Range(0, Math.Min(dimensions, SobolTable.Dimensions)).Select(SobolTable.Directions)];
        shifts = new ulong[directions.Length];
        if (seed is null)
            return;
        RandomBits all = new(seed.Value);
        for (int d = 0; d < directions.Length; d++)
        {
            RandomBits bits = all.Stream((ulong)d);
            Scramble(directions[d], bits);
            shifts[d] = bits.At(SobolTable.Bits) >> (64 - SobolTable.Bits);
        }
    }

    /// <summary>Scrambled points.</summary>
    public static SobolPoints Scrambled(int dimensions, ulong seed) => new(dimensions, seed);

    /// <summary>The bare sequence, whose first point is the origin.</summary>
    public static SobolPoints Bare(int dimensions) => new(dimensions, null);

    /// <inheritdoc/>
    public override string Name => seed is { } s ? $"Sobol' points, scrambled, seed {s}" : "Sobol' points";

    /// <inheritdoc/>
    public override void Fill(int dimension, long first, Span<double> into)
    {
        if (dimension < directions.Length)
            FillOne(directions[dimension], shifts[dimension], (ulong)first, into);
        else if (rest is not null)
            rest.Fill(dimension, first, into);
        else
            throw new ArgumentException($"made for {directions.Length} dimensions", nameof(dimension));
    }

    private void FillOne(ulong[] direction, ulong shift, ulong first, Span<double> into)
    {
        ulong point = shift;
        for (ulong gray = first ^ (first >> 1); gray != 0; gray &= gray - 1)
            point ^= direction[BitOperations.TrailingZeroCount(gray)];
        double middle = seed is null ? 0 : 0.5;
        for (int b = 0; b < into.Length; b++)
        {
            into[b] = (point + middle) * Least;
            point ^= direction[BitOperations.TrailingZeroCount(first + (ulong)b + 1)];
        }
    }

    // Bit r (from the top) of the new number is bit r of the old one and a random choice of those above it.
    private static void Scramble(ulong[] direction, RandomBits bits)
    {
        Span<ulong> rows = stackalloc ulong[SobolTable.Bits];
        for (int r = 0; r < rows.Length; r++)
        {
            ulong own = 1UL << (SobolTable.Bits - 1 - r);
            ulong above = ((1UL << SobolTable.Bits) - 1) & ~((own << 1) - 1);
            rows[r] = own | (bits.At((ulong)r) & above);
        }
        for (int k = 0; k < direction.Length; k++)
        {
            ulong mixed = 0;
            for (int r = 0; r < rows.Length; r++)
                mixed |= ((ulong)BitOperations.PopCount(rows[r] & direction[k]) & 1) << (SobolTable.Bits - 1 - r);
            direction[k] = mixed;
        }
    }
}
