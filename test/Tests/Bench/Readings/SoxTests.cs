using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Waveforms;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Measuring.Readings;

/// <summary>Recordings that SoX 14.4.2 made, with frequencies that its command line says (test/Reference/sox/make).</summary>
public sealed class SoxTests
{
    private static readonly PitchSpec Law = new("pitch", 1, 65.406391, 0, "core", 2.5, true, "C1");
    private static readonly UnitName Unit = new("lead", "0001");

    private static string File(string name) => Path.Combine(Golden.Root, "test", "Reference", "sox", name);

    private static ReadingSet Read(string name, ReadingOptions options)
    {
        (ReadingSet? set, ImmutableArray<InputError> errors) = Sitting.Read(Unit, Law, [File(name)], options);
        Assert.True(set is not null, string.Join('\n', errors.Select(error => error.Render())));
        return set;
    }

    [Fact]
    public void Five_notes_are_found_by_themselves_and_read_to_a_thousandth_of_a_cent()
    {
        ReadingSet set = Read("octaves-44100.wav", new());
        Assert.Equal([0, 1, 2, 3, 4], set.Readings.Select(reading => reading.Control.Value));
        double[] starts = [0, 0.6, 1.2, 2.0, 2.6];
        foreach ((UnitReading reading, double start) in set.Readings.Zip(starts))
        {
            double expected = 65.406391 * Math.Pow(2, reading.Control.Value);
            Assert.Equal(0, 1200 * Math.Log2(reading.Frequency.Value / expected), 1e-3);
            // Found by pieces of 10 ms or one and a half periods, and never past the note's ends.
            Assert.InRange(reading.Heard!.Start, start, start + 0.03);
            Assert.InRange(reading.Heard.Start + reading.Heard.Length, start + 0.57, start + 0.6);
        }
        Assert.Equal(
            [WaveShape.Sine, WaveShape.Sine, WaveShape.Sine, WaveShape.Triangle, WaveShape.Sine],
            set.Readings.Select(reading => reading.Heard!.Wave!.Shape)
        );
        // SoX's gain of −6 dB: 0.501187 of full scale.
        Assert.All(set.Readings, reading => Assert.Equal(2 * 0.501187, reading.Heard!.Wave!.PeakToPeak, 2e-3));
    }

    [Fact]
    public void A_clock_that_is_wrong_by_90_ppm_is_set_right_by_a_reference_tone()
    {
        PitchSpec law = Law with { ReferenceFrequency = 523.251131 };
        ReadingOptions options = new() { Reference = new(File("reference-fast-clock.wav"), 440, 0) };
        (ReadingSet? set, _) = Sitting.Read(Unit, law, [File("note-fast-clock.wav")], options);
        Assert.Equal(90, set!.Clock.Ppm, 0.01);
        UnitReading reading = Assert.Single(set.Readings);
        double off = 1200 * Math.Log2(reading.Frequency.Value / 523.251131);
        Assert.InRange(Math.Abs(off), 0, 4 * reading.UncertaintyCents(1));
        Assert.InRange(reading.UncertaintyCents(1), 1e-6, 0.01);
        Assert.NotNull(reading.Heard!.Tone!.HumShare);
        // Without the reference the reading is 0.156 cent flat and owns to a clock of 100 ppm.
        ReadingSet blind = Read("note-fast-clock.wav", new() { Controls = [3] });
        Assert.Equal(-1200 * Math.Log2(1.00009), 1200 * Math.Log2(blind.Readings[0].Frequency.Value / 523.251131), 0.01);
        Assert.Equal(0.1, blind.Clock.UncertaintyCents, 0.01);
        Assert.Contains(blind.Notes, note => note.Contains("--reference", StringComparison.Ordinal));
    }

    [Fact]
    public void A_slide_under_an_even_ramp_is_read_at_every_quarter_of_an_octave()
    {
        ReadingSet set = Read("slide.wav", new() { Controls = [0.75, 2.75] });
        Assert.Equal([0.75, 1, 1.25, 1.5, 1.75, 2, 2.25, 2.5, 2.75], set.Readings.Select(reading => reading.Control.Value));
        foreach (UnitReading reading in set.Readings)
            Assert.Equal(0, 1200 * Math.Log2(reading.Frequency.Value / 110) - 1200 * (reading.Control.Value - 0.75), 0.02);
    }

    [Fact]
    public void Two_sines_four_cents_apart_are_told_apart_and_the_other_channel_is_left_alone()
    {
        ReadingSet set = Read("pair-and-other.wav", new() { Controls = [0], Pair = true });
        Assert.Equal(2.035608, set.Readings[0].Heard!.Pair!.Beat.Value, 1e-4);
        Assert.Equal(880, set.Readings[0].Frequency.Value, 1e-4);
        ReadingSet other = Read("pair-and-other.wav", new() { Controls = [0], Channel = 2 });
        Assert.Equal(300, other.Readings[0].Frequency.Value, 1e-4);
    }

    [Fact]
    public void A_list_of_control_voltages_that_does_not_fit_the_notes_is_told_with_what_was_found()
    {
        (ReadingSet? set, ImmutableArray<InputError> errors) = Sitting.Read(Unit, Law, [File("octaves-44100.wav")], new() { Controls = [0, 1, 2] });
        Assert.Null(set);
        InputError error = Assert.Single(errors);
        Assert.Equal("C303", error.Code);
        Assert.Contains("5 notes where 3 control voltages", error.What, StringComparison.Ordinal);
        Assert.Contains("65.41 Hz at 0.0", error.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_note_between_two_octaves_asks_for_its_control_voltage()
    {
        (_, ImmutableArray<InputError> errors) = Sitting.Read(Unit, Law with { ReferenceFrequency = 80 }, [File("slide.wav")], new());
        Assert.Equal("C304", Assert.Single(errors).Code);
    }
}
