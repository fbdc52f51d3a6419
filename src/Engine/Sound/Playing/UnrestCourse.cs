using Consort.Engine.Sound.Noise;

namespace Consort.Engine.Sound.Playing;

/// <summary>How noise and warmth stand while oscillators play: as a piece has them, or as someone moves them live.</summary>
/// <param name="rate">Samples a second.</param>
/// <param name="seed">Of the noise.</param>
/// <param name="kelvinAt">Temperature of the parts so many seconds after the start, K; null: as it was read, throughout.</param>
internal sealed class UnrestCourse(int rate, ulong seed, Func<double, double>? kelvinAt)
{
    /// <summary>That of a piece.</summary>
    public static UnrestCourse Of(SoundSettings settings) => new(settings.Rate, settings.NoiseSeed, settings.Course is { } course ? course.KelvinAt : null);

    /// <summary>Samples a second.</summary>
    public int Rate => rate;

    /// <summary>Of the noise.</summary>
    public ulong Seed => seed;

    /// <summary>Temperature by time.</summary>
    public Func<double, double>? KelvinAt => kelvinAt;

    /// <summary>White noise by its number: one stream for all who play it, block after block.</summary>
    public NoiseStream White(int number)
    {
        while (whites.Count <= number)
            whites.Add(new(seed, (ulong)whites.Count));
        return whites[number];
    }

    private readonly List<NoiseStream> whites = [];

    /// <summary>Amplitude of the noise against the circuit's own.</summary>
    public double Times { get; set; } = 1;
}
