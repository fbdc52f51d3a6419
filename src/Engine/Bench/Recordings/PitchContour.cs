using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Bench.Recordings;

/// <summary>The pitch of a recording moment by moment, roughly: good for finding where notes stand.</summary>
internal sealed class PitchContour
{
    private const double FrameSeconds = 0.17; // seven periods of 40 Hz
    private const double Silence = 1e-5; // of the loudest frame's power: 50 dB
    private const double LeastShare = 0.7; // of the lines' power, below which a frame is no note

    private PitchContour(int frame, int hop, double binHertz, bool[] sounds, double[] hertz) =>
        (Frame, Hop, BinHertz, Sounds, Hertz) = (frame, hop, binHertz, sounds, hertz);

    /// <summary>Samples in a frame.</summary>
    public int Frame { get; }

    /// <summary>Samples from one frame to the next.</summary>
    public int Hop { get; }

    /// <summary>Width of a line, Hz.</summary>
    public double BinHertz { get; }

    /// <summary>By frame: false where it is silent.</summary>
    public bool[] Sounds { get; }

    /// <summary>By frame; NaN where nothing sounds, or no one note.</summary>
    public double[] Hertz { get; }

    /// <summary>The sample in the middle of a frame.</summary>
    public int Middle(int frame) => frame * Hop + Frame / 2;

    /// <summary>Takes it.</summary>
    public static PitchContour Of(double[] samples, double rate)
    {
        int frame = 1 << (int)Math.Round(Math.Log2(FrameSeconds * rate)), hop = frame / 8;
        int frames = samples.Length < frame ? 0 : (samples.Length - frame) / hop + 1;
        double[] powers = [.. Enumerable.Range(0, frames).Select(i => Power(samples.AsSpan(i * hop, frame)))];
        double least = Silence * powers.DefaultIfEmpty(0).Max();
        bool[] sounds = [.. powers.Select(power => power > least)];
        double[] hertz = new double[frames];
        for (int i = 0; i < frames; i++)
        {
            ToneSearch.Guess? guess = sounds[i] ? ToneSearch.In(new(samples.AsSpan(i * hop, frame))) : null;
            hertz[i] = guess is { Share: > LeastShare } found ? found.Bin * rate / frame : double.NaN;
        }
        return new(frame, hop, rate / frame, sounds, hertz);
    }

    private static double Power(ReadOnlySpan<double> samples)
    {
        double sum = 0, squares = 0;
        foreach (double sample in samples)
        {
            sum += sample;
            squares += sample * sample;
        }
        return squares - sum * sum / samples.Length;
    }
}
