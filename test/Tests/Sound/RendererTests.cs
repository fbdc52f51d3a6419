using System.Collections.Immutable;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

/// <summary>From circuit to sound on a voice whose laws can be told by hand.</summary>
public sealed class RendererTests
{
    private const double Rate = 48_000;

    private static Score Note(string name, double seconds) => Score.Read([$"{name} {seconds} s"]).Score!;

    private static SoundSettings Settings(Score score, params string[] jacks)
    {
        (ImmutableArray<Strip> strips, ImmutableArray<WordFault> faults) = Strip.Mixer(SoundingToy.Voice, jacks, ["o1=-100%"], []);
        Assert.Empty(faults);
        return new(score, strips, [], Attack: 1e-3, Release: 1e-3);
    }

    private static ImmutableArray<SoundLaw> Laws(SoundSettings settings, PlayedVoice? voice = null)
    {
        (ImmutableArray<SoundLaw> laws, Engine.Circuit.SolveFailure? failure) =
            new LawReader((voice ?? SoundingToy.Played).Twin(), settings, 2).Read(null, TestContext.Current.CancellationToken);
        Assert.Null(failure);
        return laws;
    }

    private static double[] Left(SoundSettings settings, ImmutableArray<SoundLaw> laws, params double[] stands)
    {
        (float[] left, _) = new Renderer(settings, laws, stands).Run(null, TestContext.Current.CancellationToken);
        return [.. left.Skip(9600).Take(48_000).Select(sample => (double)sample)];
    }

    [Fact]
    public void The_sound_has_the_pitch_of_the_law_within_a_hundredth_of_a_cent()
    {
        SoundSettings settings = Settings(Note("A3", 1.5), "o1/saw");
        ImmutableArray<SoundLaw> laws = Laws(settings);
        double volts = Math.Log2(220.0 / 100);
        double law = laws[0].Pitch.Hertz(volts);
        double[] sound = Left(settings, laws);
        double early = Spectrum.LineAt(sound.AsSpan(0, 16_000), Rate, Window.FlatTop, law).Phase;
        double late = Spectrum.LineAt(sound.AsSpan(32_000), Rate, Window.FlatTop, law).Phase;
        double slip = Math.IEEERemainder(late - early - 2 * Math.PI * law * 32_000 / Rate, 2 * Math.PI) / (2 * Math.PI);
        Expect.Within(0, 1200 / Math.Log(2) * slip / (law * 32_000 / Rate), 1e-4);
        // And the law is the circuit's: read by itself at that very voltage, which no reading of the law stands at.
        SoloOscillator solo = new(SoundingToy.Played.Twin(Accuracy.Default), SoundingToy.Played.Oscillators[0]);
        Assert.Null(solo.Prepare(2));
        (double hertz, _) = solo.Read(volts);
        Expect.Within(0, 1200 * Math.Log2(law / hertz), 0.01);
    }

    [Theory]
    [InlineData("saw", "G3")]
    [InlineData("saw", "C6")]
    [InlineData("pulse", "G3")]
    [InlineData("pulse", "C6")]
    public void The_sound_is_the_whole_circuits_wave_with_what_is_too_high_taken_off(string output, string key)
    {
        // The whole voice runs both oscillators on the shared supply; the sound was made of one period of one.
        (double residual, Engine.Circuit.SolveFailure? failure) = CircuitResidual.Read(SoundingToy.Played, "o1", output, NoteName.Read(key)!.Value);
        Assert.Null(failure);
        Assert.True(residual < -60, $"{residual:0.0} dB");
    }

    [Theory]
    [InlineData("saw", "C#3")]
    [InlineData("saw", "D#6")]
    [InlineData("pulse", "C#3")]
    [InlineData("pulse", "D#6")]
    public void A_note_of_many_half_an_octave_from_those_that_are_read_sounds_as_the_whole_circuit_does(string output, string key)
    {
        // The nearest octave's wave, whose edges and resets take 0.3 µs of another period, would be 60 to 75 dB off.
        (double residual, Engine.Circuit.SolveFailure? failure) = CircuitResidual.Read(SoundingToy.Played, "o1", output, NoteName.Read(key)!.Value, amongMany: true);
        Assert.Null(failure);
        Assert.True(residual < -88, $"{residual:0.0} dB");
    }

    [Fact]
    public void Two_waves_differ_by_nothing_when_one_is_the_other_later()
    {
        System.Numerics.Complex[] wave = [new(1, 0.2), new(-0.3, 0.4), new(0, 0.1)];
        System.Numerics.Complex[] later = [.. wave.Select((line, i) => line * System.Numerics.Complex.FromPolarCoordinates(1, -0.7 * (i + 1)))];
        Expect.Within(0, CircuitResidual.Difference(wave, later), 1e-7);
        later[2] += 0.01;
        Assert.InRange(CircuitResidual.Difference(wave, later), 0.005, 0.01);
    }

    [Fact]
    public void A_moved_pulse_width_follows_the_wheel()
    {
        // The comparator stands at 2.5 V and the wheel against a saw of 5 V: duty is 1 − (2.5 + v)/5.
        (Modulation? move, _) = Modulation.Read(SoundingToy.Voice, "wheel=sine 1 Hz 1.5 V");
        SoundSettings settings = Settings(Note("A3", 1.5), "o1/pulse") with { Moves = [move!] };
        ImmutableArray<SoundLaw> laws = Laws(settings);
        MoveLaw law = laws[0].Moves[0];
        Assert.False(law.MovesPitch);
        foreach (double volts in (double[])[-1.4, -0.3, 0, 0.77, 1.5])
        {
            PulseEdges edges = law.EdgesAt("pulse", volts);
            double duty = edges.Fall - edges.Rise - Math.Floor(edges.Fall - edges.Rise);
            Expect.Within(1 - (2.5 + volts) / 5, duty, 3e-3); // hysteresis and delays
        }
        // At a quarter of a second the wheel is at its top: the pulse there is 0.2 of the period.
        (float[] left, _) = new Renderer(settings, laws, [0]).Run(null, TestContext.Current.CancellationToken);
        double[] around = [.. left.Skip(12_000 - 1091).Take(2182).Select(sample => (double)sample)];
        double middle = 0.5 * (around.Max() + around.Min());
        Expect.Within(0.2, around.Count(sample => sample > middle) / 2182.0, 0.01);
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(4.6)]
    public void A_moved_pulse_has_its_edges_near_where_the_circuit_has_them_at_any_note(double note)
    {
        // Read at the middle of the piece only, where 0.1 µs behind a comparator is another share of the period.
        (Modulation? move, _) = Modulation.Read(SoundingToy.Voice, "wheel=sine 1 Hz 1.5 V");
        SoundSettings settings = Settings(Score.Read(["A2 0.1 s", "E7 0.1 s"]).Score!, "o1/pulse") with { Moves = [move!] };
        SoundLaw law = Laws(settings)[0];
        PlayedVoice moved = SoundingToy.Played.Twin();
        moved.Circuit["wheel/V", "value"] = 0.7;
        SoloOscillator solo = new(moved, moved.Oscillators[0]);
        Assert.Null(solo.Prepare(2));
        (SteadyPeriod? period, _) = new PeriodReader(moved, solo, ["o1/pulse"]).At(note);
        PulseEdges circuit = PulseReader.Read(period!.Times, period.Volts[0])!.Value;
        PulseEdges middle = law.Moves[0].EdgesAt("pulse", 0.7);
        (double rise, double fall) = law.EdgesMoved("pulse", law.Moves[0], note);
        // A reset takes 0.3 µs from the ramp, of which another width has another share: 0.14 of 7e-4 at 2.4 kHz.
        Assert.InRange(Off(middle.Later(rise, fall)), 0, Math.Min(1e-4, 0.5 * Off(middle)));

        double Off(PulseEdges edges) => Math.Abs(Turns.Short(circuit.Rise - edges.Rise)) + Math.Abs(Turns.Short(circuit.Fall - edges.Fall));
    }

    [Fact]
    public void A_pulse_dies_where_its_comparator_no_longer_meets_the_saw()
    {
        (Modulation? move, _) = Modulation.Read(SoundingToy.Voice, "wheel=sine 1 Hz 4 V");
        SoundSettings settings = Settings(Note("A3", 0.2), "o1/pulse") with { Moves = [move!] };
        MoveLaw law = Laws(settings)[0].Moves[0];
        Expect.Within(0, law.EdgesAt("pulse", 3.9).Stuck ?? 99, 0.1);
        Expect.Within(4.9, law.EdgesAt("pulse", -3.9).Stuck ?? 99, 0.1); // 10 kΩ hang on the comparator's output
        Assert.Null(law.EdgesAt("pulse", 0).Stuck);
    }

    [Fact]
    public void A_moved_frequency_has_the_swing_that_the_circuit_gives_it()
    {
        // 10 % a volt: 2 V at 30 Hz swing 220 Hz by 44 Hz; β = 44/30 for the fundamental (Chowning 1973).
        (Modulation? move, _) = Modulation.Read(SoundingToy.Voice, "shake=sine 30 Hz 2 V");
        SoundSettings settings = Settings(Note("A3", 1.5), "o1/saw") with { Moves = [move!] };
        ImmutableArray<SoundLaw> laws = Laws(settings);
        Expect.Within(1.2, laws[0].Moves[0].Ratio(2), 1e-3);
        double[] sound = Left(settings, laws, 0);
        double carrier = laws[0].Pitch.Hertz(Math.Log2(220.0 / 100));
        const double J1 = 0.55305, J0 = 0.53034; // of 1.4667, from the series (Abramowitz and Stegun 9.1.10)
        double ratio = Spectrum.LineAt(sound, Rate, Window.Harris, carrier + 30).Magnitude / Spectrum.LineAt(sound, Rate, Window.Harris, carrier).Magnitude;
        Expect.Relative(J1 / J0, ratio, 0.02);
    }

    [Fact]
    public void The_same_settings_give_the_same_samples()
    {
        SoundSettings settings = Settings(Note("A3", 0.1), "o1/saw", "o2/pulse");
        ImmutableArray<SoundLaw> laws = Laws(settings);
        (float[] first, float[] right) = new Renderer(settings, laws, []).Run(null, TestContext.Current.CancellationToken);
        (float[] again, _) = new Renderer(settings, Laws(settings), []).Run(null, TestContext.Current.CancellationToken);
        Assert.Equal(first, again);
        Assert.Equal((int)(0.101 * Rate), first.Length);
        Assert.Contains(right, sample => sample != 0);
    }

    [Fact]
    public void A_glide_comes_within_a_third_of_the_way_in_its_time_constant()
    {
        Score score = new([new(0, 57), new(0.5, 69), new(1.5, null)], 1.5);
        SoundSettings settings = Settings(score, "o1/saw") with { Glide = 0.2 };
        ImmutableArray<SoundLaw> laws = Laws(settings);
        (float[] left, _) = new Renderer(settings, laws, []).Run(null, TestContext.Current.CancellationToken);
        // 0.2 s after the second key an octave is done to 1 − 1/e of its cents.
        int at = (int)(0.7 * Rate);
        double expected = laws[0].Pitch.Hertz(Math.Log2(220 / 100.0) + 1 - Math.Exp(-1));
        int[] falls = [.. Enumerable.Range(at - 1500, 3000).Where(n => left[n - 1] > 0 && left[n] <= 0)];
        double[] periods = [.. falls.Zip(falls.Skip(1), (a, b) => (double)(b - a))];
        Expect.Relative(expected, Rate / periods.Average(), 0.02);
    }
}
