using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Spectra;

/// <summary>Windows against the figures of merit that their authors print. Coefficients and figures from memory: wrong
/// digits in the one would not give the other.</summary>
public sealed class WindowTests
{
    // Highest sidelobe, dB, and equivalent noise bandwidth, bins: Harris 1978 table I (Hann, 4-term Blackman-Harris), Nuttall
    // 1981 (98.17 dB), Heinzel et al. 2002 appendix C (Nuttall4c 1.9761, HFT144D 4.5386, HFT248D 5.6512).
    public static TheoryData<string, double, double> Published => new()
    {
        { "Hann", -31.5, 1.5 },
        { "Blackman-Harris, 4 terms", -92.0, 2.0044 },
        { "Nuttall, 4 terms", -98.1, 1.9761 },
        { "HFT144D", -144.1, 4.5386 },
        { "HFT248D", -248.4, 5.6512 },
    };

    [Theory]
    [MemberData(nameof(Published))]
    public void A_window_has_the_sidelobes_and_the_bandwidth_that_are_published(string name, double sidelobe, double bandwidth)
    {
        Window window = Window.All.Single(window => window.Name == name);
        double highest = 0;
        for (double bins = window.Reach; bins < window.Reach + 40; bins += 0.003)
            highest = Math.Max(highest, Math.Abs(window.Response(bins)));
        Expect.Within(sidelobe, Decibels.Of(highest), 0.07); // printed to a tenth, some cut rather than rounded
        Assert.Equal(sidelobe, window.SidelobeDb);
        Expect.Within(bandwidth, window.NoiseBandwidth, 6e-5);
    }

    // Largest error of a line between two bins, dB: Harris 1978 (scallop loss), Heinzel et al. 2002.
    [Theory]
    [InlineData("Blackman-Harris, 4 terms", 0.83, 0.005)]
    [InlineData("Nuttall, 4 terms", 0.8506, 1e-4)]
    [InlineData("HFT144D", 0.0021, 1e-4)]
    [InlineData("HFT248D", 0.0009, 1e-4)]
    public void A_line_between_two_bins_reads_as_low_as_published(string name, double decibels, double tolerance)
    {
        Window window = Window.All.Single(window => window.Name == name);
        double most = Enumerable.Range(0, 501).Max(i => Math.Abs(Decibels.Of(window.Response(0.001 * i))));
        Expect.Within(decibels, most, tolerance);
    }

    [Fact]
    public void A_sampled_line_answers_as_the_formula_for_long_stretches_says()
    {
        const int Count = 4096;
        const double Bin = 700.3;
        double[] sine = [.. Enumerable.Range(0, Count).Select(n => Math.Cos(2 * Math.PI * Bin * n / Count))];
        Spectrum spectrum = Spectrum.Of(sine, Count, Window.FlatTop);
        for (int off = -6; off <= 6; off++)
            Expect.Within(Math.Abs(Window.FlatTop.Response(off - 0.3)), spectrum.Amplitudes[700 + off], 2e-6);
    }
}
