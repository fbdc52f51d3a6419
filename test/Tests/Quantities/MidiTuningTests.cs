using Consort.Engine.Quantities;
using Xunit;

namespace Consort.Tests.Quantities;

/// <summary>MIDI 1.0 Detailed Specification, MIDI Tuning Standard.</summary>
public sealed class MidiTuningTests
{
    [Fact]
    public void A_frequency_becomes_the_three_bytes_of_the_standard()
    {
        // 443.2 Hz is note 69.125452291646: 45 10 07 hex, 14 bits 2055.
        MidiTuning word = MidiTuning.Of(new(443.2))!.Value;
        Assert.Equal((69, 2055), (word.Note, word.Fraction));
        Assert.Equal([0x45, 0x10, 0x07], word.Bytes);
    }

    [Fact]
    public void One_step_is_the_hundredth_of_a_semitone_over_16384() =>
        Assert.Equal(0.006103515625, Cents.Between(new MidiTuning(69, 0).Frequency, new MidiTuning(69, 1).Frequency).Value, 1e-9);

    [Theory]
    [InlineData(60, 261.625565300599)]
    [InlineData(0, 8.17579891564371)]
    [InlineData(127, 12543.853951416)]
    public void A_note_without_rest_is_equal_temperament(int note, double hertz)
    {
        Assert.Equal(1, new MidiTuning(note, 0).Frequency.Value / hertz, 1e-12);
        Assert.Equal(new MidiTuning(note, 0), MidiTuning.Of(new(hertz)));
    }

    [Fact]
    public void The_word_that_means_no_change_is_never_written()
    {
        double top = 440 * Math.Pow(2, (127 - 69 + 16383.0 / 16384) / 12);
        Assert.Null(MidiTuning.Of(new(top)));
        Assert.Equal([0x7F, 0x7F, 0x7E], MidiTuning.Of(new(top * Math.Pow(2, -1.0 / 12 / 16384)))!.Value.Bytes);
    }

    [Fact]
    public void What_lies_outside_cannot_be_said()
    {
        Assert.Null(MidiTuning.Of(new(8.1)));
        Assert.Null(MidiTuning.Of(new(0)));
        Assert.Null(MidiTuning.Of(new(20e3)));
    }

    [Fact]
    public void A_rest_that_rounds_to_a_whole_semitone_goes_to_the_next_note() =>
        Assert.Equal(new MidiTuning(70, 0), MidiTuning.Of(new(440 * Math.Pow(2, (1 - 1e-6) / 12))));
}
