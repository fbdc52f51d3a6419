using System.Collections.Immutable;
using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;

namespace Consort.Engine.Sound.Live;

/// <summary>
/// Plays a voice's laws while keys and controls are being moved, block after block without a gap. Controls are followed with
/// time constants of milliseconds, keys at once; phases run on through every change. One thread fills; others may touch and set.
/// </summary>
public sealed class LiveRenderer
{
    private const double Rise = 0.05; // s: it starts from silence, and the level moves no faster

    private readonly ImmutableArray<SoundLaw> laws;
    private readonly LiveOscillator[] strips;
    private readonly SyncMarks sync;
    private readonly LiveOscillator[] leads; // for their turns, by which others are pulled
    private readonly int leadStrip;
    private readonly LivePlayer[] players;
    private readonly double[][] moved;
    private readonly LiveKey key;
    private readonly LiveTemperature temperature;
    private readonly UnrestCourse unrest;
    private readonly Coupling couplingLeft;
    private readonly Coupling couplingRight;
    private readonly SmoothValue level;
    private readonly double[] volts = new double[2 * SoundOscillator.Block + 1];
    private readonly double[] mixLeft = new double[SoundOscillator.Block];
    private readonly double[] mixRight = new double[SoundOscillator.Block];
    private readonly float[] ready = new float[2 * SoundOscillator.Block];
    private readonly Lock gate = new();
    private readonly Queue<(long Sample, double? Key)> touches = [];
    private int taken; // of what is ready, samples
    private int made;
    private long at;
    private double peak;
    private long overs;

    /// <summary>For laws that were read for these very settings.</summary>
    /// <param name="settings">The mixer, and the players that may be moved with how far at most.</param>
    /// <param name="laws">What was read.</param>
    /// <param name="stands">Where each moved player stands, V.</param>
    /// <param name="startVolts">Control voltage before the first key, V.</param>
    /// <param name="kelvin">Temperature at which they were read, K.</param>
    public LiveRenderer(SoundSettings settings, ImmutableArray<SoundLaw> laws, IEnumerable<double> stands, double startVolts = 0, double kelvin = Circuit.Constants.ReferenceTemperature)
    {
        this.laws = laws;
        Controls = LiveControls.Of(settings);
        temperature = new(kelvin);
        unrest = new(settings.Rate, settings.NoiseSeed, temperature.KelvinAt);
        volts[0] = startVolts;
        strips = [.. settings.Strips.Select((strip, i) => Make(settings, LawOf(strip), strip, startVolts, i))];
        leadStrip = settings.Strips.ToList().FindIndex(strip => strip.Oscillator == laws[0].Oscillator.Name);
        sync = new(settings, laws);
        leads = [.. sync.Leads(settings, laws, unrest, 0, startVolts).Select(lead => new LiveOscillator(lead, laws[0].Oscillator.Spec.VoltsPerOctave, LeadControl, settings.Rate))];
        players = [.. stands.Select(still => new LivePlayer(still, settings.Rate))];
        moved = [.. players.Select(player => player.Volts)];
        key = new(laws[0].Oscillator, settings.Rate, strips.Max(strip => strip.Late));
        (couplingLeft, couplingRight) = (new(settings.Rate), new(settings.Rate));
        VoltsAtFullScale = settings.Strips.Sum(strip => ReachOf(LawOf(strip), strip.Output));
        level = new(0, Rise, settings.Rate);
        at = -strips.Max(strip => strip.Late);
    }

    /// <summary>Where the controls stand; another may be put in its place at any time.</summary>
    public LiveControls Controls { get; set; }

    /// <summary>Volts at the mixer's output that would be full scale at a level of 1: all strips at 0 dB at their peaks at once.</summary>
    public double VoltsAtFullScale { get; }

    /// <summary>A key is pressed (the one to be played from now on), or all are let go. Any thread.</summary>
    /// <param name="touched">MIDI key; null: none.</param>
    /// <param name="sample">When, in samples from the start; one that is past means at once.</param>
    public void Touch(double? touched, long sample = 0)
    {
        lock (gate)
            touches.Enqueue((sample, touched));
    }

    /// <summary>Fills samples, left and right in turn, −1 to 1.</summary>
    public void Fill(Span<float> samples)
    {
        while (!samples.IsEmpty)
        {
            if (taken == made)
                RenderBlock();
            int count = Math.Min(made - taken, samples.Length / 2);
            ready.AsSpan(2 * taken, 2 * count).CopyTo(samples);
            taken += count;
            samples = samples[(2 * count)..];
        }
    }

    /// <summary>What came out since the last call; the thread that fills.</summary>
    public LiveMeter ReadMeter()
    {
        LiveMeter meter = new(peak, overs, Math.Max(0, at));
        (peak, overs) = (0, 0);
        return meter;
    }

    private void RenderBlock()
    {
        LiveControls controls = Controls;
        key.Follow(controls);
        temperature.Follow(controls.Unrest, (double)(at + key.Late) / unrest.Rate);
        unrest.Times = controls.Unrest.Noise;
        int count = (int)Math.Min(SoundOscillator.Block, TakeTouches() - at - key.Late);
        Mix(controls, count);
        level.Aim(controls.Level / VoltsAtFullScale);
        (taken, made) = (0, 0);
        for (int n = 0; n < count; n++, at++)
        {
            (double l, double r) = (couplingLeft.Next(mixLeft[n]), couplingRight.Next(mixRight[n]));
            double gain = key.Gain();
            if (at < 0)
                continue;
            level.Step();
            ready[2 * made] = Cut(level.Value * (float)(gain * l));
            ready[2 * made + 1] = Cut(level.Value * (float)(gain * r));
            made++;
        }
    }

    private float Cut(double sample)
    {
        double size = Math.Abs(sample);
        peak = Math.Max(peak, size);
        if (size <= 1)
            return (float)sample;
        overs++;
        return Math.Sign(sample);
    }

    // Those that are due; gives the sample of the next one. The waves run ahead of what comes out.
    private long TakeTouches()
    {
        long now = at + key.Late;
        lock (gate)
        {
            while (touches.TryPeek(out (long Sample, double? Key) next))
            {
                if (next.Sample > now)
                    return next.Sample;
                key.Touch(touches.Dequeue().Key);
            }
        }
        return long.MaxValue;
    }

    private void Mix(LiveControls controls, int count)
    {
        ReadOnlySpan<double> now = Voltages(count);
        double hertz = laws[0].Pitch.Hertz(now[0]);
        for (int m = 0; m < players.Length; m++)
            players[m].Run(controls.Moves[m], hertz, count);
        Span<double> left = mixLeft.AsSpan(0, count), right = mixRight.AsSpan(0, count);
        foreach (LiveOscillator lead in leads)
            lead.Add(LeadControl, now, moved, [], left, right);
        left.Clear();
        right.Clear();
        for (int i = 0; i < strips.Length; i++)
            strips[i].Add(controls.Strips[i], now, moved, sync.Pulls(i, mark => leads[mark].Turns), left, right);
    }

    // The lead's turns are wanted even when it has no strip; what this adds to the mix is cleared.
    private LiveStrip LeadControl => leadStrip < 0 ? default : Controls.Strips[leadStrip];

    private ReadOnlySpan<double> Voltages(int count)
    {
        if (!double.IsNaN(key.Volts))
            volts[0] = key.Volts;
        if (double.IsNaN(key.Volts) || !key.Glides)
            return volts.AsSpan(0, 1);
        for (int i = 0; i <= 2 * count; i++)
        {
            volts[i] = key.Volts;
            if (i < 2 * count)
                key.Glide();
        }
        return volts.AsSpan(0, 2 * count + 1);
    }

    private SoundLaw LawOf(Strip strip) => laws.First(law => law.Oscillator.Name == strip.Oscillator);

    private LiveOscillator Make(SoundSettings settings, SoundLaw law, Strip strip, double volts, int i) =>
        new(new(law, strip with { MovedCents = 0 }, settings.Rate, CornerKernel.Standard, volts, Renderer.StartOf(laws, law), Unrest.Of(law, unrest, strip.Output, i, volts)),
            law.Oscillator.Spec.VoltsPerOctave, Controls.Strips[i], settings.Rate);

    // The furthest that an output goes from its mean at any note; a pulse that can be made narrow goes by its whole height.
    private static double ReachOf(SoundLaw law, string output)
    {
        double furthest = law.Waves[output].Reach;
        foreach (MoveLaw move in law.Moves)
            if (move.Edges.TryGetValue(output, out ImmutableArray<PulseEdges> edges))
                furthest = Math.Max(furthest, edges.Max(edge => edge.High - edge.Low));
        return furthest;
    }
}
