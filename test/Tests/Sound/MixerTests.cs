using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Sound.Playing;
using Consort.Tests.Circuit;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class MixerTests
{
    private static readonly Voice Toy = SoundingToy.Voice;

    [Fact]
    public void Strips_are_named_with_level_place_and_interval()
    {
        (ImmutableArray<Strip> strips, ImmutableArray<WordFault> faults) = Strip.Mixer(Toy, ["o1/saw=-6 dB", "o2/saw"], ["o1=-100%", "o2/saw=50%"], ["o2=+7 cents"]);
        Assert.Empty(faults);
        Expect.Within(0.501187, strips[0].Gain, 1e-6);
        Assert.Equal((-1, 0), (strips[0].Place, strips[0].MovedCents));
        Assert.Equal((0.5, 7), (strips[1].Place, strips[1].MovedCents));
        Expect.Within(0, strips[0].Sides.Right, 1e-12);
        (double left, double right) = strips[1].Sides;
        Expect.Within(1, left * left + right * right, 1e-12); // equal power
    }

    [Fact]
    public void Left_out_every_oscillators_first_output_is_heard_and_spread()
    {
        (ImmutableArray<Strip> strips, _) = Strip.Mixer(Toy, [], [], []);
        Assert.Equal(["o1/saw", "o2/saw"], strips.Select(strip => strip.Jack));
        Assert.Equal([-0.7, 0.7], strips.Select(strip => strip.Place));
    }

    [Theory]
    [InlineData("o1/swa", "", "", "did you mean 'o1/saw'?")]
    [InlineData("o1/saw=6", "", "", "write it in decibel, as -6 dB")]
    [InlineData("o1/saw", "o2=0%", "", "one of o1")]
    [InlineData("o1/saw", "o1=150%", "", "a place is -100% (left) to 100% (right)")]
    [InlineData("o1/saw", "", "o1=7", "an interval is a few cents to ten octaves, as \"+7 cents\"")]
    public void What_cannot_be_understood_is_told_with_a_mend(string mix, string place, string stand, string mend)
    {
        (_, ImmutableArray<WordFault> faults) = Strip.Mixer(Toy, [mix], place.Length > 0 ? [place] : [], stand.Length > 0 ? [stand] : []);
        Assert.Equal(mend, Assert.Single(faults).Mend);
    }

    [Theory]
    [InlineData("wheel=sine 5 Hz 2 V", false, 5.0, 0, 2)]
    [InlineData("wheel=triangle 2x 100 mV", true, null, 2, 0.1)]
    [InlineData("wheel=sine 500mHz 1 V", false, 0.5, 0, 1)]
    public void A_move_has_a_shape_a_rate_and_a_depth(string text, bool triangle, double? hertz, double ratio, double volts)
    {
        (Modulation? move, WordFault? fault) = Modulation.Read(Toy, text);
        Assert.Null(fault);
        Assert.Equal(new Modulation("wheel", triangle, hertz, ratio, volts), move);
    }

    [Theory]
    [InlineData("wheel")]
    [InlineData("wheel=square 5 Hz 1 V")]
    [InlineData("whel=sine 5 Hz 1 V")]
    [InlineData("keyboard=sine 5 Hz 1 V")]
    [InlineData("wheel=sine -2x 1 V")]
    [InlineData("wheel=sine 5 Hz 1")]
    public void A_move_that_cannot_be_followed_is_told(string text)
    {
        (Modulation? move, WordFault? fault) = Modulation.Read(Toy, text);
        Assert.Null(move);
        Assert.NotEmpty(fault!.Mend);
    }

    [Fact]
    public void A_triangle_begins_at_zero_and_rises()
    {
        Modulation move = new("wheel", true, 1, 0, 1);
        foreach ((double phase, double value) in new[] { (0, 0.0), (0.125, 0.5), (0.25, 1), (0.5, 0), (0.75, -1), (0.99, -0.04) })
            Expect.Within(value, move.At(phase), 1e-12);
    }
}
