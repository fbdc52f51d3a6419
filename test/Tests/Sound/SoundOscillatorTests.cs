using System.Collections.Immutable;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Shapes;
using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class SoundOscillatorTests
{
    private const int Count = 1 << 16;
    private const double Asked = -90;

    // Pitches whose harmonics fold onto nothing of their own.
    public static TheoryData<double> Pitches => [111.137, 882.613, 1976.741, 3310.17, 4186.009, 4999.773];

    [Theory]
    [MemberData(nameof(Pitches))]
    public void A_saws_aliases_are_90_dB_below_its_fundamental(double hertz)
    {
        Assert.True(Floor(CornerKernel.Standard) < Asked);
        // What is asked is not had for less: sampled as it stands, or with two points.
        Assert.True(Floor(CornerKernel.Naive) > Asked + 30);
        Assert.True(Floor(CornerKernel.TwoPoint) > Asked);

        double Floor(CornerKernel kernel) =>
            AliasFloor.Of(Rendered.Steady(WaveShape.Saw, hertz, Count, kernel), Rendered.Rate, hertz, Window.Deep).Db;
    }

    [Fact]
    public void A_phase_that_noise_turns_back_below_zero_is_played_on() =>
        Assert.All(Rendered.Modulated(WaveShape.Saw, -20_000, 0, 1, 4096), sample => Assert.True(double.IsFinite(sample)));

    [Theory]
    [MemberData(nameof(Pitches))]
    public void A_pulses_aliases_are_90_dB_below_its_fundamental(double hertz)
    {
        Assert.True(Floor(CornerKernel.Standard) < Asked);
        Assert.True(Floor(CornerKernel.Naive) > Asked + 30);
        Assert.True(Floor(CornerKernel.TwoPoint) > Asked);

        double Floor(CornerKernel kernel) =>
            AliasFloor.Of(Rendered.Steady(WaveShape.Pulse(0.37), hertz, Count, kernel), Rendered.Rate, hertz, Window.Deep).Db;
    }

    [Theory]
    [MemberData(nameof(Pitches))]
    public void A_triangles_aliases_are_90_dB_below_its_fundamental(double hertz) =>
        Assert.True(AliasFloor.Of(Rendered.Steady(WaveShape.Triangle, hertz, Count), Rendered.Rate, hertz, Window.Deep).Db < Asked);

    [Theory]
    [InlineData(441.11, 1.37)]
    [InlineData(1976.741, 2.718)]
    [InlineData(4999.773, 1.618)]
    public void A_hard_synced_saws_aliases_are_90_dB_below_its_leads_pitch(double lead, double ratio)
    {
        Assert.True(Floor(CornerKernel.Standard) < Asked);
        Assert.True(Floor(CornerKernel.Naive) > Asked + 30);
        Assert.True(Floor(CornerKernel.TwoPoint) > Asked);

        double Floor(CornerKernel kernel) =>
            AliasFloor.Of(Rendered.Pulled(WaveShape.Saw, ratio * lead, lead, Count, kernel), Rendered.Rate, lead, Window.Deep).Db;
    }

    [Theory]
    [InlineData(499.773, 0.4, 499.773 / 3)]
    [InlineData(1999.31, 0.5, 1999.31 / 2)]
    [InlineData(4998.57, 0.3, 4998.57 / 4)]
    public void A_saw_under_frequency_modulation_has_its_own_lines_and_nothing_else_above_minus_90_dB(double hertz, double depth, double modulator)
    {
        Assert.True(Floor(CornerKernel.Standard) < Asked);
        Assert.True(Floor(CornerKernel.Naive) > Asked + 30);
        Assert.True(Floor(CornerKernel.TwoPoint) > Asked);

        // All lines of the true wave stand at multiples of the modulator's frequency.
        double Floor(CornerKernel kernel)
        {
            double[] lines = [.. Enumerable.Range(0, (int)(Rendered.Rate / 2 / modulator) + 1).Select(k => k * modulator)];
            return AliasFloor.Of(Rendered.Modulated(WaveShape.Saw, hertz, depth * hertz, modulator, Count, kernel), Rendered.Rate, hertz, lines, Window.Deep).Db;
        }
    }

    [Theory]
    [InlineData(27.5)]
    [InlineData(440.1)]
    [InlineData(4186.009)]
    public void The_pitch_is_the_one_that_was_asked_to_a_hundred_thousandth_of_a_cent(double hertz)
    {
        const int Long = 480_000;
        double[] wave = Rendered.Steady(WaveShape.Saw, hertz, Long);
        double early = Spectrum.LineAt(wave.AsSpan(0, Count), Rendered.Rate, Window.FlatTop, hertz).Phase;
        double late = Spectrum.LineAt(wave.AsSpan(Long - Count), Rendered.Rate, Window.FlatTop, hertz).Phase;
        double turned = late - early - 2 * Math.PI * hertz * (Long - Count) / Rendered.Rate;
        double slipped = Math.IEEERemainder(turned, 2 * Math.PI) / (2 * Math.PI);
        double cents = 1200 * Math.Log2(1 + slipped / (hertz * (Long - Count) / Rendered.Rate));
        Expect.Within(0, cents, 1e-5);
    }

    [Theory]
    [InlineData(1.5, new[] { 0.551328895, 0.275664448, 0.318309886, 0.137832224, 0.110265779 })]
    [InlineData(2.3, new[] { 0.215684019, 0.622431581, 0.184251816 })]
    public void A_hard_synced_saw_has_the_amplitudes_of_its_closed_form(double ratio, double[] amplitudes)
    {
        // Fourier integral of 2·frac(r·t) − 1 reset at each whole t (closed form, from memory).
        double[] wave = Rendered.Pulled(WaveShape.Saw, ratio * 311.7, 311.7, Count);
        HarmonicReading reading = HarmonicReading.OfSamples(wave, Rendered.Rate, 311.7, amplitudes.Length, Window.Deep);
        for (int k = 1; k <= amplitudes.Length; k++)
            Expect.Within(amplitudes[k - 1], reading.Amplitude(k), 3.2e-5 * amplitudes[k - 1]); // the pass band's ripple, 90 dB
    }

    [Theory]
    [InlineData(1, new[] { 0.765197686558, 0.440050585745, 0.114903484932, 0.0195633539827 })]
    [InlineData(2, new[] { 0.223890779141, 0.576724807757, 0.352834028616, 0.128943249474 })]
    public void A_sine_under_frequency_modulation_has_the_Bessel_functions_as_sidebands(double index, double[] amplitudes)
    {
        // J_n(β): Abramowitz and Stegun 9.1; J. M. Chowning, J. Audio Eng. Soc. 21 (1973) 526.
        const double Carrier = 2003, Modulator = 331;
        double[] wave = Rendered.Modulated(WaveShape.Sine, Carrier, index * Modulator, Modulator, Count);
        for (int n = 0; n < amplitudes.Length; n++)
            Expect.Within(amplitudes[n], Spectrum.LineAt(wave, Rendered.Rate, Window.Deep, Carrier + n * Modulator).Magnitude, 1e-5);
    }

    [Fact]
    public void The_carrier_goes_out_at_the_first_zero_of_J0()
    {
        const double Carrier = 2003, Modulator = 331;
        double[] wave = Rendered.Modulated(WaveShape.Sine, Carrier, 2.40482555770 * Modulator, Modulator, Count);
        Expect.Within(0, Spectrum.LineAt(wave, Rendered.Rate, Window.Deep, Carrier).Magnitude, 1e-5);
    }

    // A triangle's core that is drawn to its bottom, three quarters of a period after it is counted, or past it by some hundredths;
    // fifty-three samples, as they are read from a circuit.
    private static SyncLaw Drawn(Func<double, double> after) =>
        new(0, [new(1, PhaseMap.Through(Enumerable.Range(0, 53).Select(i => (i + 0.37) / 53).Select(phase => (phase, after(phase)))), ImmutableDictionary<string, double>.Empty.Add("", 0.75))]);

    private static readonly WaveShape Risen = WaveShape.Of([(0, 0), (0.25, 1), (0.75, -1), (1, 0)]);

    [Theory]
    [InlineData(441.11, 1.37)]
    [InlineData(1976.741, 2.718)]
    [InlineData(4999.773, 1.618)]
    [InlineData(4999.773, 0.83)]
    public void A_pull_by_a_sampled_map_that_leaves_the_core_past_its_turn_keeps_aliases_90_dB_down(double lead, double ratio)
    {
        SyncLaw law = Drawn(phase => 0.745 + 0.02 * Math.Sin(2 * Math.PI * phase));
        Assert.True(law.Passed(0.3, 1, 0.74) > 0); // drawn past the turn: the wave goes on from behind it
        double[] wave = Rendered.Pulled(Risen, ratio * lead, lead, 2 * Count, law)[Count..]; // settled
        double floor = AliasFloor.Of(wave, Rendered.Rate, lead, Window.Deep).Db;
        Assert.True(floor < Asked, $"{floor:0.0} dB");
    }

    [Theory]
    [InlineData(441.11, 0.97)]
    [InlineData(4999.773, 1.06)]
    public void So_does_one_that_draws_it_a_part_of_the_way(double lead, double ratio)
    {
        SyncLaw law = Drawn(phase => phase + 0.25 * Turns.Short(0.75 - phase));
        double[] wave = Rendered.Pulled(Risen, ratio * lead, lead, 2 * Count, law)[Count..];
        double floor = AliasFloor.Of(wave, Rendered.Rate, lead, Window.Deep).Db;
        Assert.True(floor < Asked, $"{floor:0.0} dB");
    }

    [Fact]
    public void A_pull_before_the_phase_that_it_needs_is_passed_over()
    {
        // From 0.9 on it may be pulled: a follower 5 % slow is caught each time, one 20 % slow runs free in most periods.
        double[] caught = Rendered.Pulled(WaveShape.Saw, 950, 1000, Count, from: 0.9);
        Assert.True(AliasFloor.Of(caught, Rendered.Rate, 1000, Window.Deep).Db < -85); // all lines at the lead's
        double[] free = Rendered.Pulled(WaveShape.Saw, 800, 1000, Count, from: 0.9);
        Assert.True(AliasFloor.Of(free, Rendered.Rate, 1000, Window.Deep).Db > -30);
    }

    [Fact]
    public void Blocks_of_any_length_give_the_same_samples()
    {
        SoundOscillator whole = new(WaveShape.Saw, CornerKernel.Standard), parts = new(WaveShape.Saw, CornerKernel.Standard);
        double[] a = new double[250], b = new double[250];
        whole.Render([0.0231], [], null, a);
        for (int at = 0; at < 250; at += 50)
            parts.Render([0.0231], [], null, b.AsSpan(at, 50));
        for (int n = 0; n < a.Length; n++)
            Expect.Within(a[n], b[n], 1e-6); // residuals are summed in single precision, in another order
    }

    [Theory]
    [InlineData(882.613)]
    [InlineData(4999.773)]
    public void A_pulse_with_edges_that_can_move_is_the_one_with_edges_that_cannot(double hertz)
    {
        WidthOscillator moving = new(CornerKernel.Standard);
        SoundOscillator still = new(WaveShape.Pulse(0.3), CornerKernel.Standard);
        double[] a = new double[200], b = new double[200];
        for (int block = 0; block < 50; block++)
        {
            moving.Render([hertz / Rendered.Rate], [new(0, 0.3, -1, 1)], [], null, a);
            still.Render([hertz / Rendered.Rate], [], null, b);
            for (int n = 0; n < a.Length; n++)
                Expect.Within(b[n], a[n], 2e-6);
        }
    }

    [Fact]
    public void A_pulse_whose_width_is_moved_by_a_sine_keeps_its_aliases_90_dB_down()
    {
        const double Hertz = 1976.741, Slow = 1976.741 / 100; // lines far enough apart that the window's lobes leave gaps
        WidthOscillator oscillator = new(CornerKernel.Standard);
        double[] wave = new double[Count + 256];
        PulseEdges[] edges = new PulseEdges[257];
        for (int at = 0; at + 256 <= wave.Length; at += 256)
        {
            for (int n = 0; n <= 256; n++)
                edges[n] = new(0, 0.5 + 0.3 * Math.Sin(2 * Math.PI * Slow * (at + n) / Rendered.Rate), -1, 1);
            oscillator.Render([Hertz / Rendered.Rate], edges, [], null, wave.AsSpan(at, 256));
        }
        double[] lines = [.. Enumerable.Range(0, (int)(Rendered.Rate / 2 / Slow) + 1).Select(k => k * Slow)];
        // Edges move along straight lines over a sample: what bends between is left.
        double floor = AliasFloor.Of(wave.AsSpan(256), Rendered.Rate, Hertz, lines, Window.Deep).Db;
        Assert.True(floor < Asked, $"{floor:0.0} dB");
    }
}
