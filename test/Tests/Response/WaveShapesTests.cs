using Consort.Engine.Response;
using Consort.Engine.Sound.Spectra;
using Xunit;

namespace Consort.Tests.Response;

public sealed class WaveShapesTests
{
    private static HarmonicReading Of(int points, Func<double, double> wave)
    {
        double[] times = [.. Enumerable.Range(0, points + 1).Select(i => (double)i / points)];
        return HarmonicReading.OfPeriod(times, [.. times.Select(wave)], 20);
    }

    [Fact]
    public void A_sine_of_known_harmonics_has_their_distortion()
    {
        // Third at −40 dB and fifth at −50 dB: 1.04880884817 % (IEC 60268-3, from memory). Straight lines between 4000
        // points err by 4e-7 of the fifth.
        HarmonicReading reading = Of(4000, t => Math.Sin(2 * Math.PI * t) + 0.01 * Math.Sin(6 * Math.PI * t + 1) + Math.Pow(10, -2.5) * Math.Sin(10 * Math.PI * t));
        WavePoint point = WaveShapes.Of(298.15, reading, WaveShapes.Nearest(reading), 2);
        Assert.Equal(0.0104880884817, point.Distortion, 1e-7);
        Assert.Equal(point.Distortion, point.Departure, 1e-12);
        Assert.Equal(-40, point.Db[1], 1e-3);
        Assert.Equal(-50, point.Db[3], 1e-3);
    }

    [Theory]
    [InlineData(IdealWave.Saw)]
    [InlineData(IdealWave.Triangle)]
    public void An_ideal_wave_departs_from_itself_by_nothing(IdealWave wave)
    {
        // Lines are exact integrals of straight pieces; the saw's jump lasts a millionth of the period.
        (double[] times, double[] volts) = wave == IdealWave.Saw ? (new[] { 0, 0.999999, 1.0 }, new[] { -1.0, 1, -1 }) : ([0, 0.5, 1], [-1, 1, -1]);
        HarmonicReading reading = HarmonicReading.OfPeriod(times, volts, 20);
        Assert.Equal(wave, WaveShapes.Nearest(reading));
        Assert.Equal(0, WaveShapes.Of(0, reading, wave, 2).Departure, 1e-5);
    }
}
