using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch.Locking;

/// <summary>Sync and its absence in the example voices, all oscillators in motion in the whole circuit. What is held to be so
/// of sync, soft and hard, is common practice without a source.</summary>
[Trait("Runs", "Long")]
public sealed class SyncedExampleTests
{
    private const double Volts = 3;
    private const int Harmonics = 12;

    /// <summary>A voice's first oscillator and another over so many periods: their crossings, and the harmonics of the other's first output.</summary>
    private sealed record Motion(double[] Lead, double[] Follower, ImmutableArray<double> Levels)
    {
        public double Lag(int i) => (Lead[i] - Follower.Last(time => time <= Lead[i])) / (Lead[^1] - Lead[^2]);
    }

    private static Motion Run(string example, int periods, int other, params string[] controls)
    {
        (Voice? read, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example));
        if (example == "pair") // its sync is a jack; the quartet's runs in the ribbon
            read = read! with { Cords = [.. read.Cords, new(new("lead", "square"), new("second", "sync"), 0.4, SourceSpan.None)] };
        (Voice moved, ImmutableArray<WordFault> faults) = ControlMoves.Apply(read!, controls);
        Assert.Empty(faults);
        (PlayedVoice? voice, SolveFailure? unready) = ReadyVoice.Of(read!, moved, trims: true, Constants.ReferenceTemperature, 1);
        Assert.True(voice is not null, unready?.ToString());
        (RestState? state, SolveFailure? failure) = voice.Rest(Volts);
        Assert.Null(failure);
        Oscillator second = voice.Oscillators[other];
        string output = Channel.Outputs(second.Member.Module)[0];
        (ImmutableArray<Channel> channels, _) = Channel.Find(voice.Voice, voice.Circuit, [$"{second.Name}/{output}"]);
        Transient run = new(voice.Circuit, voice.Accuracy, [voice.Oscillators[0].Probe, second.Probe]);
        run.Start(state!.X);
        List<double> times = [], volts = [];
        double period = 1 / voice.Oscillators[0].IdealHertz(Volts);
        Bench.Run(run, (periods - 1.6) * period);
        int seen = run.Crossings.Count(crossing => crossing.Probe == 1);
        run.Accepted = (time, x) =>
        {
            times.Add(time);
            volts.Add(channels[0].Volts(x));
        };
        for (int i = 0; i < 1200; i++)
            Bench.Run(run, run.Time + period / 600);
        double[] lead = Times(0), follower = Times(1);
        int from = times.FindIndex(time => time >= follower[seen]), to = times.FindIndex(time => time >= follower[seen + 1]);
        HarmonicReading reading = HarmonicReading.OfPeriod([.. times[from..(to + 1)]], [.. volts[from..(to + 1)]], Harmonics);
        return new(lead, follower, [.. Enumerable.Range(1, Harmonics).Select(k => reading.Amplitude(k))]);

        double[] Times(int probe) => [.. run.Crossings.Where(crossing => crossing.Probe == probe).Select(crossing => crossing.Time)];
    }

    // Frequencies are exactly alike where the one stays in the same place of the other's period for good: here over the last
    // twenty periods, to the two thousandth that loose steps leave of where a pulse draws a capacitor. Apart by 14 cents, a
    // free one slides by a sixth.
    private static void ExpectHeld(Motion motion)
    {
        int last = motion.Lead.Length - 2;
        for (int i = last - 20; i <= last; i++)
            Expect.Within(0, Math.IEEERemainder(motion.Lag(i) - motion.Lag(last), 1), 5e-4);
    }

    // Root of the sum of squares of what the harmonics changed, against the fundamental.
    private static double Change(Motion one, Motion other) =>
        HarmonicReading.Combine(one.Levels.Zip(other.Levels, (a, b) => (a - b) / one.Levels[0]));

    // Both near unison: 14 cents below the lead, or 22 above it (the pair's second stands 3 cents sharp).
    [Theory]
    [InlineData("quartet", "soft limit", "45%")]
    [InlineData("pair", "soft pull", "45%")]
    [InlineData("pair", "soft pull", "56%")]
    public void Soft_sync_near_unison_takes_the_leads_frequency_and_keeps_the_wave(string example, string way, string fine)
    {
        Motion free = Run(example, 10, 1);
        Motion held = Run(example, 40, 1, $"second/SW1={way}", $"second/P1={fine}");
        ExpectHeld(held);
        Assert.True(Change(free, held) < 0.02, $"{Change(free, held):0.000}");
    }

    [Theory]
    [InlineData("quartet", "reset limit")]
    [InlineData("pair", "hard pull")]
    public void Hard_sync_takes_the_leads_frequency_and_the_wave_changes_with_the_followers_own_pitch(string example, string way)
    {
        Motion near = Run(example, 40, 1, $"second/SW1={way}", "second/P1=55%");
        Motion far = Run(example, 40, 1, $"second/SW1={way}", "second/P1=100%");
        ExpectHeld(near);
        ExpectHeld(far);
        Assert.True(Change(near, far) > 0.06, $"{Change(near, far):0.000}");
    }

    [Theory]
    [InlineData("pair", 1)]
    [InlineData("quartet", 2)]
    [InlineData("patched", 2)]
    public void Oscillators_that_nothing_syncs_pass_each_other_at_a_steady_pace(string example, int other)
    {
        Motion motion = Run(example, 60, other);
        double early = Math.IEEERemainder(motion.Lag(30) - motion.Lag(10), 1), late = Math.IEEERemainder(motion.Lag(50) - motion.Lag(30), 1);
        Assert.True(Math.Abs(late) > 1e-2, "they drift");
        Expect.Within(early, late, 0.02 * Math.Abs(late));
    }
}
