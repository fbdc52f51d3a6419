namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>
/// Pseudo-random bits by place: the n-th number of a stream is a function of the stream and n alone, so that no thread has
/// to wait for another. SplitMix64 (Steele, Lea, Flood, Fast Splittable Pseudorandom Number Generators, OOPSLA 2014, from
/// memory), whose state is a counter.
/// </summary>
internal readonly struct RandomBits(ulong seed)
{
    private const ulong Golden = 0x9E3779B97F4A7C15;
    private const double Least = 1.0 / (1UL << 52);

    // Seeds 1, 2, 3 must not be one stream shifted by a place.
    private readonly ulong start = Mix(seed ^ 0x6A09E667F3BCC909);

    /// <summary>64 bits.</summary>
    public ulong At(ulong place) => Mix(start + Golden * (place + 1));

    /// <summary>Another stream that belongs to this one.</summary>
    public RandomBits Stream(ulong number) => new(At(number));

    /// <summary>The middle of one of 2^52 equal shares of 0 to 1: never 0, never 1.</summary>
    public static double Share(ulong bits) => ((bits >> 12) + 0.5) * Least;

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
