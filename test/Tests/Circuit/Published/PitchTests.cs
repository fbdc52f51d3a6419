using Consort.Engine.Quantities;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Tuning: notes, intervals, beats. Sources stand at each test; "from memory" says that the source's own text
/// was not at hand when the number was worked out again.</summary>
public sealed class PitchTests
{
    private const double Exact = 1e-12;

    private static readonly Hertz ConcertPitch = new(440); // ISO 16:1975

    [Fact]
    public void A_cent_is_the_1200th_part_of_an_octave()
    {
        // A. J. Ellis in Helmholtz, On the Sensations of Tone, appendix XX; ISO 16:1975 fixes a' = 440 Hz. From memory.
        Expect.Relative(1.00057778950655, new Hertz(1).Moved(new Cents(1)).Value, Exact);
        Expect.Within(1, Cents.Between(new Hertz(1), new Hertz(1.00057778950655)).Value, 1e-10);
    }

    [Fact]
    public void At_one_volt_an_octave_a_cent_is_833_microvolt()
    {
        // The same definition, through a converter given as a law: 1 uA doubles with every volt.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 0 V, plus: pitch, minus: 0 V}
              G1: {law: "-1e-6 * 2^[pitch]", from: out, to: 0 V}
              R1: {resistor: 1M, from: out, to: 0 V}
            """
        );
        double from = bench["out"];
        double cent = bench.With("V1", "value", 833.333333333e-6)["out"];
        Expect.Relative(1.00057778950655, cent / from, Exact);
        double millivolt = bench.With("V1", "value", 1e-3)["out"];
        Expect.Within(1.2, Expect.Cents(from, millivolt), 1e-9);
    }

    [Theory]
    [InlineData(60, 261.625565300599)]
    [InlineData(0, 8.17579891564371)]
    [InlineData(127, 12543.853951416)]
    public void Equal_tempered_notes_stand_where_the_tuning_standard_puts_them(int note, double hertz)
    {
        // MIDI 1.0 Detailed Specification, MIDI Tuning Standard (prints 8.1758 Hz and 12543.854 Hz). Confirmed.
        Expect.Relative(hertz, ConcertPitch.Moved(new Cents(100 * (note - 69))).Value, Exact);
    }

    [Fact]
    public void A_frequency_has_the_note_number_of_the_tuning_standard()
    {
        // m = 69 + 12·log2(f/440): MIDI Tuning Standard, confirmed. Its three-byte word (45 10 07 hex for this one) is not
        // built: nothing here reads or writes it.
        double note = 69 + Cents.Between(ConcertPitch, new Hertz(443.2)).Value / 100;
        Expect.Within(69.125452291646, note, 1e-11);
    }

    [Theory]
    [InlineData(3.0 / 2, 701.955000865)]
    [InlineData(5.0 / 4, 386.313713865)]
    [InlineData(531441.0 / 524288, 23.460010385)] // Pythagorean comma
    [InlineData(81.0 / 80, 21.506289597)] // syntonic comma
    public void Just_intervals_have_their_size_in_cents(double ratio, double cents)
    {
        // Ellis's table in Helmholtz, On the Sensations of Tone. From memory.
        Expect.Within(cents, Cents.Between(new Hertz(1), new Hertz(ratio)).Value, 1e-9);
    }

    [Theory]
    [InlineData(440, 3, 0.763122903)]
    [InlineData(1000, 1, 0.577789507)]
    [InlineData(261.6255653006, 2, 0.302416354)]
    public void Two_notes_a_few_cents_apart_beat_at_their_difference(double hertz, double cents, double beat)
    {
        // As the cent: f·(2^(c/1200) − 1).
        Hertz note = new(hertz);
        Expect.Within(beat, note.Moved(new Cents(cents)).Value - note.Value, 1e-9);
    }

    [Fact]
    public void Two_simulated_saw_cores_3_cents_apart_beat_at_0_763_hertz()
    {
        // The same row as above, from the periods of two cores whose currents stand 3 cents apart. The resets take 250 ps.
        Bench bench = new(
            $$"""
            circuit:
              I1: {current source: 2.2 uA, from: 0 V, to: saw}
              C1: {capacitor: 1n, starts at: 0 V, from: saw, to: 0 V}
              {{Cores.Reset("saw")}}
              V1: {voltage source: 2.51 V, plus: limit, minus: 0 V}
            """
        );
        Bench sharp = new(bench.Circuit.Design);
        sharp.With("I1", "value", 2.2e-6 * Math.Pow(2, 3.0 / 1200));
        double low = 1 / bench.Period(bench.Rising("saw", 2.5), 0, 8, 21e-3);
        double high = 1 / sharp.Period(sharp.Rising("saw", 2.5), 0, 8, 21e-3);
        Expect.Within(440, low, 1);
        Expect.Relative(low * 0.763122903 / 440, high - low, 1e-6);
    }
}
