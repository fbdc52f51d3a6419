using Consort.Engine.Pitch;
using Consort.Engine.Response;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Response;

public sealed class WidthReaderTests
{
    // The toy's pulse is high while a saw from 0 V to 5 V is above 2.5 V + cv (an ideal comparator with 10 mV of
    // hysteresis and 100 ns of delay at 400 Hz): high for (2.5 − cv)/5 of the period, dead from cv = −2.5 V and 2.5 V on.
    private static readonly Lazy<OscillatorResponse> Toy = new(() => Study.Of("width"));

    private static WidthSheet Sheet => Assert.Single(Toy.Value.Widths, sheet => sheet.Output == "pulse" && sheet.Drive.Name == "o1/width");

    [Fact]
    public void A_comparator_on_a_straight_ramp_gives_the_width_that_is_worked_out_by_hand()
    {
        // 10 mV of hysteresis are 0.2 % of the ramp, the delays 0.03 % of the period.
        foreach (WidthPoint point in Sheet.Points.Where(point => Math.Abs(point.At) < 2.4))
            Assert.Equal((2.5 - point.At) / 5, point.High, 0.003);
        Assert.Equal(-0.2, Sheet.Slope, 0.001);
    }

    [Fact]
    public void It_dies_at_the_ramps_ends()
    {
        // Hysteresis moves an end by half of 10 mV, the search stops within 1/5120 of 10 V; the ramp runs 5 mV past 5 V.
        Assert.Equal(-2.5, Sheet.Low!.At, 0.015);
        Assert.True(Sheet.Low.High);
        Assert.Equal(2.5, Sheet.High!.At, 0.015);
        Assert.False(Sheet.High.High);
    }

    [Fact]
    public void It_is_a_half_where_the_level_stands_in_the_middle() => Assert.Equal(0, Sheet.Half, 0.015);

    [Fact]
    public void A_level_that_drifts_moves_the_width_as_worked_out_by_hand()
    {
        // The level's source of 2.5 V + cv drifts by 2000 ppm/K: 10 K colder and warmer it is lower and higher by 2 %, and the
        // pulse high for a share of 1 − level/5.
        PlayedVoice played = SoundingToy.Played.Twin();
        played.Circuit["o1/V3", "tempco"] = 2000e-6;
        WidthSheet sheet = Assert.Single(Study.Of("width", played: played).Widths, sheet => sheet.Output == "pulse");
        Assert.Equal(3, sheet.Places.Length);
        Assert.Equal([25, 15, 35], sheet.Drifts.Select(drift => Math.Round(drift.Kelvin - 273.15)));
        for (int place = 0; place < 3; place++)
        {
            double level = 2.5 + sheet.Places[place];
            Assert.Equal(0.1 + 0.4 * place, sheet.Drifts[0].High[place], 0.003);
            foreach ((int i, double share) in ((int, double)[])[(1, 0.98), (2, 1.02)])
                Assert.Equal(level * (1 - share) / 5, sheet.Drifts[i].High[place] - sheet.Drifts[0].High[place], 2e-4);
        }
    }

    [Fact]
    public void What_moves_no_width_has_no_sheet() => Assert.DoesNotContain(Toy.Value.Widths, sheet => sheet.Drive.Name != "o1/width");

    [Fact]
    public void Any_number_of_threads_gives_the_same_bits()
    {
        OscillatorResponse one = Study.Of("width", threads: 1);
        Assert.Equal(Toy.Value.Widths[0].Points, one.Widths[0].Points);
        Assert.Equal(Toy.Value.Widths[0].Half, one.Widths[0].Half);
    }
}
