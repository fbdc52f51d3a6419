using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Spectra;

/// <summary>Harmonics of waves whose Fourier series stand in any text (R. N. Bracewell, The Fourier Transform and Its
/// Applications; from memory).</summary>
public sealed class HarmonicReadingTests
{
    private static HarmonicReading Saw(int most) => HarmonicReading.OfPeriod([0, 1e-3], [-1, 1], most);

    private static HarmonicReading Pulse(double duty, int most) =>
        HarmonicReading.OfPeriod([0, duty, duty, 1], [1, 1, 0, 0], most);

    private static HarmonicReading Square(int most) => HarmonicReading.OfPeriod([0, 0.5, 0.5, 1], [1, 1, -1, -1], most);

    private static HarmonicReading Triangle(int most) => HarmonicReading.OfPeriod([0, 0.25, 0.75, 1], [0, 1, -1, 0], most);

    [Fact]
    public void Saw_square_and_triangle_have_the_published_fundamentals()
    {
        Expect.Within(0.636619772368, Saw(1).Amplitude(1), 1e-12);
        Expect.Within(1.27323954474, Square(1).Amplitude(1), 1e-11);
        Expect.Within(0.810569469139, Triangle(1).Amplitude(1), 1e-12);
        for (int k = 2; k <= 9; k++)
            Expect.Within(0.636619772368 / k, Saw(9).Amplitude(k), 1e-12);
    }

    [Fact]
    public void Distortion_of_all_harmonics_nears_the_sums_of_their_series()
    {
        // √(π²/6 − 1), √(π²/8 − 1), √(π⁴/96 − 1); the tail past harmonic n is 1/n, 1/2n and 1/6n³ of the squares' sum.
        const int Most = 4000;
        Expect.Within(0.803077870974, Math.Sqrt(Square2(Saw(Most)) + 1.0 / (Most + 0.5)), 1e-9);
        Expect.Within(0.483425847609, Math.Sqrt(Square2(Square(Most)) + 0.5 / Most), 1e-9);
        Expect.Within(0.121152926519, Triangle(200).Distortion, 1e-7);

        static double Square2(HarmonicReading reading) => reading.Distortion * reading.Distortion;
    }

    [Fact]
    public void Distortion_up_to_the_tenth_harmonic_of_a_saw_is_74_percent() =>
        Expect.Within(0.741463236558, Saw(10).Distortion, 1e-12);

    [Theory]
    [InlineData(0.25, new[] { 0.450158158, 0.318309886, 0.150052719, 0 })]
    [InlineData(0.1, new[] { 0.196726329, 0.187097857, 0.171678738, 0.151365346, 0.127323954 })]
    public void A_pulse_has_the_sinc_of_its_duty(double duty, double[] amplitudes)
    {
        HarmonicReading reading = Pulse(duty, amplitudes.Length);
        for (int k = 1; k <= amplitudes.Length; k++)
            Expect.Within(amplitudes[k - 1], reading.Amplitude(k), 1e-9);
        Expect.Within(duty, reading.Mean, 1e-12);
    }

    [Fact]
    public void Two_harmonics_of_40_and_50_dB_make_1_05_percent() =>
        // Root of the sum of squares, IEC 60268-3 (from memory).
        Expect.Within(0.0104880884817, HarmonicReading.Combine([Decibels.Ratio(-40), Decibels.Ratio(-50)]), 1e-13);

    [Fact]
    public void A_naive_saw_of_48_samples_has_the_finite_geometric_sums_lines()
    {
        // Line k of a saw with N samples a period: (2/N)/sin(πk/N), where the continuous one has 2/(πk).
        double[] saw = [.. Enumerable.Range(0, 48 * 200).Select(n => 2.0 * (n % 48) / 48 - 1)];
        HarmonicReading reading = HarmonicReading.OfSamples(saw, 48_000, 1000, 10, Window.FlatTop);
        Expect.Within(0.637074512445, reading.Amplitude(1), 1e-7); // sidelobes of 144 dB
        Expect.Within(0.319220732314, reading.Amplitude(2), 1e-7);
        Expect.Within(0.0684449846544, reading.Amplitude(10), 1e-7);
    }

    [Fact]
    public void A_part_of_a_naive_saws_power_past_a_harmonic_is_what_folds_back()
    {
        // 1 − Σ 1/k² · 6/π²: past harmonic 17 3.47 %, past 23 2.59 %.
        HarmonicReading saw = Saw(23);
        Expect.Within(0.0347292496, 1 - Share(17), 1e-9);
        Expect.Within(0.0258653372, 1 - Share(23), 1e-9);
        Expect.Within(-14.593, 10 * Math.Log10(1 - Share(17)), 1e-3);
        Expect.Within(-15.873, 10 * Math.Log10(1 - Share(23)), 1e-3);

        // Mean square of a saw of ±1 is 1/3.
        double Share(int harmonics) => saw.Lines.Take(harmonics).Sum(line => line.Magnitude * line.Magnitude / 2) * 3;
    }

    [Fact]
    public void Sixteen_harmonics_are_read_from_samples_as_they_were_put_in()
    {
        double[] amplitudes = [.. Enumerable.Range(1, 16).Select(k => Math.Pow(0.3, k - 1))];
        double[] wave =
        [
            .. Enumerable.Range(0, 24_000).Select(n =>
                0.25 + amplitudes.Select((a, i) => a * Math.Cos(2 * Math.PI * 441.7 * (i + 1) * n / 48_000 + i)).Sum()
            ),
        ];
        HarmonicReading reading = HarmonicReading.OfSamples(wave, 48_000, 441.7, 16, Window.Deep);
        Expect.Within(0.25, reading.Mean, 1e-11);
        for (int k = 1; k <= 16; k++)
            Expect.Within(amplitudes[k - 1], reading.Amplitude(k), 1e-11);
        Expect.Within(1, reading.Lines[1].Phase, 1e-9);
        Expect.Within(Decibels.Of(0.3 * 0.3 * 0.3), reading.Db(4), 1e-7);
    }
}
