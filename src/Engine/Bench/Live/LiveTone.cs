using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Bench.Live;

/// <summary>What is heard of a note at this moment.</summary>
/// <param name="Tone">Its last moment; once it is steady, the whole last second.</param>
/// <param name="Wander">Farthest that the readings of the last second lie from their mean, cents; NaN while there are too few.</param>
/// <param name="IsSteady">True when they lie within <see cref="LiveTone.SteadyCents"/>.</param>
public sealed record LiveReading(ToneReading Tone, double Wander, bool IsSteady);

/// <summary>Hears a note while it sounds: samples go in as they come, a reading comes out a few times a second. One thread may
/// read while another one adds.</summary>
public sealed class LiveTone
{
    /// <summary>How far readings of one second may lie from their mean when the note counts as steady, cents.</summary>
    public const double SteadyCents = 0.5;

    private const double Moment = 0.35; // s: eleven periods of the lowest C of a keyboard
    private const double Whole = 1.0; // s
    private const int Needed = 4; // readings within the last second

    private readonly Lock door = new();
    private readonly double rate;
    private readonly double[] latest;
    private readonly Queue<(double At, double Octaves)> readings = [];
    private int filled;
    private long heard;

    /// <summary>For a recorder of so many samples a second.</summary>
    public LiveTone(double rate)
    {
        this.rate = rate;
        latest = new double[(int)(Whole * rate)];
    }

    /// <summary>Largest sample of the last moment by size; full scale is 1.</summary>
    public double Peak { get; private set; }

    /// <summary>Takes samples, full scale ±1.</summary>
    public void Add(ReadOnlySpan<float> samples)
    {
        lock (door)
            Append(samples.Length > latest.Length ? samples[^latest.Length..] : samples);
    }

    private void Append(ReadOnlySpan<float> samples)
    {
        int kept = Math.Min(filled, latest.Length - samples.Length);
        latest.AsSpan(filled - kept, kept).CopyTo(latest);
        for (int i = 0; i < samples.Length; i++)
            latest[kept + i] = samples[i];
        filled = kept + samples.Length;
        heard += samples.Length;
    }

    /// <summary>Forgets all: after a gap the samples are no one recording.</summary>
    public void Forget()
    {
        lock (door)
            filled = 0;
    }

    /// <summary>Reads; null while nothing periodic sounds.</summary>
    public LiveReading? Read()
    {
        (double[] whole, double at) = Copy();
        int moment = (int)(Moment * rate);
        ReadOnlySpan<double> now = whole.AsSpan(Math.Max(0, whole.Length - moment));
        Peak = 0;
        foreach (double sample in now)
            Peak = Math.Max(Peak, Math.Abs(sample));
        if (now.Length < moment || ToneEstimator.One(now, rate).Reading is not { } tone)
        {
            readings.Clear();
            return null;
        }
        double wander = Wander(at, Math.Log2(tone.Frequency.Value));
        bool isSteady = wander <= SteadyCents && whole.Length == latest.Length;
        return new(isSteady && ToneEstimator.One(whole, rate).Reading is { } better ? better : tone, wander, isSteady);
    }

    private (double[] Samples, double At) Copy()
    {
        lock (door)
            return (latest[..filled], heard / rate);
    }

    private double Wander(double at, double octaves)
    {
        readings.Enqueue((at, octaves));
        while (readings.Peek().At < at - Whole)
            readings.Dequeue();
        double mean = readings.Average(reading => reading.Octaves);
        return readings.Count < Needed ? double.NaN : 1200 * readings.Max(reading => Math.Abs(reading.Octaves - mean));
    }
}
