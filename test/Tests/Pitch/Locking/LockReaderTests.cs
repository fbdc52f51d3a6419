using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Locking;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch.Locking;

/// <summary>Lock ranges of the reduced model against full transients of both oscillators.</summary>
public sealed class LockReaderTests
{
    private static PairLock Pair(PlayedVoice voice, double volts)
    {
        (ImmutableArray<PairLock> pairs, SolveFailure? failure) = new LockReader(voice, 1).At(volts, TestContext.Current.CancellationToken);
        Assert.True(failure is null, failure?.ToString());
        return Assert.Single(pairs);
    }

    [Theory]
    [InlineData("50 mΩ", 0)]
    [InlineData("50 mΩ", 1)]
    [InlineData("50 mΩ", 2)]
    [InlineData("50 mΩ", 3)]
    [InlineData("5 mΩ", 0)]
    [InlineData("5 mΩ", 3)]
    public void Both_in_motion_drift_apart_as_fast_as_the_reduced_model_says(string resistance, double volts)
    {
        PlayedVoice voice = LeakyToy.Played(resistance);
        PairLock pair = Pair(voice, volts);
        (LockCheck? check, SolveFailure? failure) = LockCheck.Run(voice, pair, cancel: TestContext.Current.CancellationToken);
        Assert.True(failure is null, "check: " + failure?.ToString());
        Expect.Relative(check!.Whole, check.Reduced, 0.05);
        Assert.Equal(CouplingPath.Supply, pair.Paths[0].Path);
        Expect.Relative(pair.Width, pair.Paths.Sum(share => share.Cents), 1e-9);
    }

    [Theory]
    [InlineData("20 Ω", 2)]
    public void A_detune_a_tenth_within_the_range_locks_and_one_a_tenth_beyond_does_not(string resistance, double volts) => HoldsRange(resistance, volts);

    [Theory]
    [Trait("Runs", "Long")]
    [InlineData("5 Ω", 0)]
    [InlineData("5 Ω", 1)]
    [InlineData("5 Ω", 2)]
    [InlineData("5 Ω", 3)]
    [InlineData("2 Ω", 0)]
    [InlineData("2 Ω", 1)]
    [InlineData("2 Ω", 3)]
    public void It_does_at_every_octave(string resistance, double volts) => HoldsRange(resistance, volts);

    private static void HoldsRange(string resistance, double volts) => HoldsRange(LeakyToy.Played(resistance), volts);

    private static void HoldsRange(PlayedVoice voice, double volts, double within = 0.1)
    {
        PairLock pair = Pair(voice, volts);
        double middle = 0.5 * (pair.Low + pair.High), half = 0.5 * pair.Width;
        Assert.True(KnownEnds.Within(pair) >= within, "no more is promised than is held here");
        Assert.True(IsLocked(voice, pair, middle + (1 - within) * half), "inside, above");
        Assert.True(IsLocked(voice, pair, middle - (1 - within) * half), "inside, below");
        Assert.False(IsLocked(voice, pair, middle + (1 + within) * half), "outside, above");
        Assert.False(IsLocked(voice, pair, middle - (1 + within) * half), "outside, below");
    }

    [Theory]
    [InlineData("20 Ω", "+702 cents", 2.0 / 3, "3:2")]
    public void A_fifth_locks_over_the_range_that_harmonics_of_both_give(string resistance, string stands, double capacitance, string ratio) =>
        HoldsRatio(resistance, stands, capacitance, ratio);

    [Theory]
    [Trait("Runs", "Long")]
    [InlineData("5 Ω", "+1203 cents", 0.5, "2:1", 0.1)]
    [InlineData("20 Ω", "+1203 cents", 0.5, "2:1", 0.2)] // 35 cents wide: the first order of what couples is not all
    public void So_does_an_octave_as_nearly_as_is_said(string resistance, string stands, double capacitance, string ratio, double within) =>
        HoldsRatio(resistance, stands, capacitance, ratio, within);

    private static void HoldsRatio(string resistance, string stands, double capacitance, string ratio, double within = 0.1)
    {
        PlayedVoice voice = LeakyToy.Played(resistance, stands);
        voice.Circuit["o2/C1", "value"] *= capacitance;
        Assert.Equal(ratio, $"{Pair(voice, 1).Ratio}");
        HoldsRange(voice, 1, within);
    }

    [Fact]
    public void A_pair_that_stands_near_no_simple_ratio_is_left_out_and_counted()
    {
        LockReader reader = new(LeakyToy.Played("5 Ω", "+950 cents"), 1);
        Assert.Equal(1, reader.LeftOut);
        Assert.Empty(reader.At(1, TestContext.Current.CancellationToken).Pairs);
    }

    // How far each alone stands from the ratio, cents: half a capacitor is not quite an octave, since a reset takes its time.
    private static double Alone(PlayedVoice voice, PairLock pair)
    {
        double[] hertz = [.. Enumerable.Range(0, 2).Select(i => Read(voice.Twin(), i))];
        return 1200 * Math.Log2(hertz[1] / hertz[0]) - pair.Ratio.Cents;

        double Read(PlayedVoice twin, int i)
        {
            SoloOscillator solo = new(twin, twin.Oscillators[i]);
            Assert.Null(solo.Prepare(pair.Volts));
            return solo.Read(pair.Volts).Hertz;
        }
    }

    // From the whole circuit over so many periods that half a turn is passed at a tenth of the range's half.
    private static bool IsLocked(PlayedVoice voice, PairLock pair, double detune)
    {
        PlayedVoice twin = voice.Twin();
        // The second stands 3 cents up only on paper. Detune counts as heard, the pull included.
        twin.Circuit["o2/C1", "value"] *= Math.Pow(2, -(detune - pair.Pull - Alone(voice, pair)) / 1200);
        (RestState? state, SolveFailure? failure) = twin.Rest(pair.Volts);
        Assert.Null(failure);
        Transient run = new(twin.Circuit, twin.Accuracy, [twin.Oscillators[0].Probe, twin.Oscillators[1].Probe]);
        run.Start(state!.X);
        double periods = 100 + 0.6 / (0.1 * 0.5 * pair.Width * Math.Log(2) / 1200);
        Bench.Run(run, periods / pair.Hertz);
        double[] one = [.. run.Crossings.Where(crossing => crossing.Probe == 0).Select(crossing => crossing.Time)];
        double[] two = [.. run.Crossings.Where(crossing => crossing.Probe == 1).Select(crossing => crossing.Time)];
        double drift = 1200 * Math.Log2((one[^1] - one[^(1 + 48 * pair.Ratio.First)]) / (two[^1] - two[^(1 + 48 * pair.Ratio.Second)]));
        return Math.Abs(drift) < 0.005 * pair.Width; // outside, the slowest drift is 0.05 of the width
    }

    [Fact]
    public void Without_anything_between_them_there_is_no_range_and_they_never_stop_beating()
    {
        // Supply of a microohm, pulses that load nothing: the cords' sleeves join the modules' grounds, but nothing flows there.
        PlayedVoice voice = LeakyToy.Played("1 µΩ");
        foreach (Oscillator oscillator in voice.Oscillators)
            voice.Circuit[oscillator.Part("R6"), "value"] = 1e12;
        PairLock pair = Pair(voice, 1);
        Assert.True(pair.Width < 1e-6, $"{pair.Width}: {string.Join(", ", pair.Paths)}");
        Assert.True(pair.BeatsFreelyAt(0.001));
    }

    private static readonly Voice Quartet = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet")).Voice!;

    private static PlayedVoice Prepared(Voice file)
    {
        PlayedVoice voice = PlayedVoice.Of(file, TestContext.Current.CancellationToken);
        Assert.Null(voice.Prepare());
        return voice;
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(-850, 1)]
    [InlineData(0, 5)]
    public void A_first_look_names_the_pair_that_locks_over_the_widest_range(double fourth, double slots)
    {
        // What is known of each kind is read of the voice as it is, the others' slots of the supply have more resistance.
        PlayedVoice voice = Prepared(Quartet with
        {
            Members = [.. Quartet.Members.Select(member => member.Name == "fourth" ? member with { StandsCents = member.StandsCents + fourth } : member)],
            Supply = Quartet.Supply with { SlotResistance = slots * Quartet.Supply.SlotResistance },
        });
        PortSides sides = PortSides.Read([new(Prepared(Quartet), 2)], 3, 2, TestContext.Current.CancellationToken);
        (ImmutableArray<PairLock> all, SolveFailure? failure) = new LockReader(voice, 2).At(3, TestContext.Current.CancellationToken);
        Assert.True(failure is null, failure?.ToString());
        (PairLock? widest, failure) = new LockReader(voice, 2).Widest(3, sides, TestContext.Current.CancellationToken);
        Assert.True(failure is null, failure?.ToString());
        PairLock full = all.MaxBy(pair => pair.Width)!;
        Assert.Equal((full.First, full.Second), (widest!.First, widest.Second));
        Expect.Relative(full.Width, widest.Width, 1e-9);
    }

    [Fact]
    public void Oscillators_of_a_kind_feel_a_voltage_alike_wherever_they_stand_on_the_bus()
    {
        LockReader reader = new(Prepared(Quartet), 1);
        Assert.Equal([0, 1, 2, 3], reader.Looked);
        Assert.NotEqual(reader.KindOf(0), reader.KindOf(1)); // the lead
        Assert.Equal(reader.KindOf(1), reader.KindOf(3));
        (PortSide near, PortSide far) = (Side(reader, 1), Side(reader, 3));
        for (int port = 0; port < near.Feels.Length; port++)
            if (near.Feels[port].Sum(Math.Abs) > 1e-3) // those through which anything is felt
                Assert.InRange(Apart(near.Feels[port], far.Feels[port]), 0, 0.01);
        int rail = Enumerable.Range(0, near.Feels.Length).MaxBy(port => near.Sends[port].Max(Math.Abs));
        Assert.InRange(Apart(near.Sends[rail], far.Sends[rail]), 0, 0.05);
    }

    private static PortSide Side(LockReader reader, int oscillator)
    {
        (PortSide? side, SolveFailure? failure) = reader.ReadSide(3, oscillator);
        Assert.True(failure is null, failure?.ToString());
        return side!;
    }

    // As a share of the one, in 128 cells: edges stand where each one's period has them.
    private static double Apart(double[] one, double[] other)
    {
        (double[] a, double[] b) = (PhaseGrid.Folded(one, one.Length / 128), PhaseGrid.Folded(other, other.Length / 128));
        return a.Zip(b, (x, y) => Math.Abs(x - y)).Sum() / a.Sum(Math.Abs);
    }

    [Fact]
    public void What_is_brought_is_read_with_Newton_where_steps_without_it_break_off()
    {
        PlayedVoice voice = Prepared(VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "shoestring")).Voice!);
        Accuracy tooClose = new(1e-6, Linear: true);
        (Oscillator third, Oscillator fourth) = (voice.Oscillators[2], voice.Oscillators[3]);
        PlayedVoice twin = voice.Twin(tooClose);
        Assert.NotNull(Disturbance.Take(twin, fourth, [new(twin.Circuit, third.Name, twin.PreparedRest)], 3, tooClose).Failure);
        LockPlayer player = new(voice, fourth, tooClose);
        Assert.Null(player.ReadBrought(3, [third]));
        Assert.True(player.Brings(third).Period > 0);
    }

    [Fact]
    public void Any_number_of_threads_gives_the_same_bits()
    {
        PlayedVoice voice = LeakyToy.Played("5 Ω");
        (ImmutableArray<PairLock> one, _) = new LockReader(voice, 1).At(1, TestContext.Current.CancellationToken);
        (ImmutableArray<PairLock> two, _) = new LockReader(voice, 2).At(1, TestContext.Current.CancellationToken);
        Assert.Equal(one[0].Curve, two[0].Curve);
    }
}
