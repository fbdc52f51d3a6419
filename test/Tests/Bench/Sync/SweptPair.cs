using Consort.Engine.Bench.Recordings;
using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Oscillators;
using Consort.Tests.Measuring.Tones;
using SoundShape = Consort.Engine.Sound.Shapes.WaveShape;

namespace Consort.Tests.Measuring.Sync;

/// <summary>Recordings of a follower that is swept past its lead, with a hold that is known.</summary>
/// <param name="Follower">With sync on.</param>
/// <param name="Lead">Recorded beside it.</param>
/// <param name="Free">The follower with sync off.</param>
internal sealed record SweptPair(Recording Follower, Recording Lead, Recording Free)
{
    private const double Rate = 48000, DrawnRate = 16000;

    /// <summary>By a phase equation of this test's own, after Adler (Proc. IRE 34 (1946) 351): what the follower runs ahead of
    /// the lead by is turned back by a sine. The hold reaches as far either way as the sine is high.</summary>
    /// <param name="lead">Hz at a time.</param>
    /// <param name="own">Hz at a time.</param>
    /// <param name="seconds">Of the sweep.</param>
    /// <param name="reach">Of the hold, cents; 0: no sync.</param>
    /// <param name="noise">Deviation of the noise, full scale 1.</param>
    public static SweptPair Drawn(Func<double, double> lead, Func<double, double> own, double seconds, double reach, double noise = 0.002)
    {
        int count = (int)(seconds * DrawnRate);
        double[] turns = new double[count], free = new double[count], leads = new double[count];
        double a = 0.3, b = 0.1, c = 0;
        for (int i = 0; i < count; i++)
        {
            (turns[i], free[i], leads[i]) = (a, b, c);
            double f = lead(i / DrawnRate), o = own(i / DrawnRate), most = f * (Math.Pow(2, reach / 1200) - 1);
            a += (o - most * Math.Sin(2 * Math.PI * (a - c))) / DrawnRate;
            b += o / DrawnRate;
            c += f / DrawnRate;
        }
        return new(Wave(turns, noise, 1), Wave(leads, noise, 2), Wave(free, noise, 3));
    }

    /// <summary>By the engine's own renderer of resets: a pull is heeded from a share of the follower's period on.</summary>
    public static SweptPair Played(Func<double, double> lead, Func<double, double> own, double seconds, double from)
    {
        int count = (int)(seconds * Rate) / SoundOscillator.Block * SoundOscillator.Block;
        SoundOscillator one = new(SoundShape.Saw, CornerKernel.Standard), two = new(SoundShape.Saw, CornerKernel.Standard, 0.3), alone = new(SoundShape.Saw, CornerKernel.Standard);
        double[] leads = new double[count], follows = new double[count], free = new double[count];
        for (int at = 0; at < count; at += SoundOscillator.Block)
        {
            one.Render([lead(at / Rate) / Rate], [], null, leads.AsSpan(at, SoundOscillator.Block));
            two.Render([own(at / Rate) / Rate], one.Turns, SyncLaw.Reset(from), follows.AsSpan(at, SoundOscillator.Block));
            alone.Render([own(at / Rate) / Rate], [], null, free.AsSpan(at, SoundOscillator.Block));
        }
        return new(Kept(follows), Kept(leads), Kept(free));
    }

    /// <summary>Evenly in cents from one to the other.</summary>
    public static Func<double, double> Sweep(double middle, double fromCents, double toCents, double seconds) =>
        at => middle * Math.Pow(2, (fromCents + (toCents - fromCents) * at / seconds) / 1200);

    private static Recording Kept(double[] samples) => new("played.wav", Rate, [.. samples.Select(sample => Math.Round(0.5 * sample * 32768) / 32768)], 1.0 / 32768);

    // A saw of eight harmonics.
    private static Recording Wave(double[] turns, double noise, int seed)
    {
        double[] samples = [.. turns.Select(turn => Enumerable.Range(1, 8).Sum(k => 0.5 * MadeTone.Size("saw", k) * Math.Sin(2 * Math.PI * k * turn)))];
        double[] hiss = new MadeTone(seed, turns.Length).Noise(noise).Samples;
        return new("drawn.wav", DrawnRate, [.. samples.Zip(hiss, (sample, off) => sample + off)]);
    }
}
