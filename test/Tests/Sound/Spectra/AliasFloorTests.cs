using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Spectra;

public sealed class AliasFloorTests
{
    private const double Rate = 48_000;

    [Theory]
    [InlineData(-95, 7301)]
    [InlineData(-140, 23_111)]
    public void A_faint_line_beside_harmonics_is_found_at_its_level_and_place(double decibels, double hertz)
    {
        double[] wave = [.. Enumerable.Range(0, 96_000).Select(n => Tone(1234.5, n) + 0.5 * Tone(2469, n) + Decibels.Ratio(decibels) * Tone(hertz, n))];
        AliasFloor floor = AliasFloor.Of(wave, Rate, 1234.5, Window.Deep);
        Expect.Within(decibels, floor.Db, 0.01);
        Expect.Within(hertz, floor.Hertz, 1);
        Assert.Equal(-248.4, floor.LimitDb);
    }

    [Fact]
    public void Harmonics_alone_leave_the_rounding_of_a_double()
    {
        double[] wave = [.. Enumerable.Range(0, 96_000).Select(n => Tone(1234.5, n) + 0.5 * Tone(2469, n))];
        Assert.True(AliasFloor.Of(wave, Rate, 1234.5, Window.Deep).Db < -230);
    }

    [Fact]
    public void A_harmonic_past_half_the_rate_excuses_nothing_near_it()
    {
        // 5 × 5 kHz = 25 kHz would fold to 23 kHz; its lobe does not hide a line at 23.99 kHz either.
        double[] wave = [.. Enumerable.Range(0, 96_000).Select(n => Tone(5000, n) + 0.01 * Tone(23_990, n))];
        Expect.Within(-40, AliasFloor.Of(wave, Rate, 5000, Window.Deep).Db, 0.01);
    }

    private static double Tone(double hertz, int n) => Math.Sin(2 * Math.PI * hertz / Rate * n);
}
