using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Johnson, Phys. Rev. 32 (1928) 97; Nyquist, ibid. 110; Schottky, Ann. Phys. 57 (1918) 541. From memory.</summary>
public sealed class NoiseTests
{
    private const double Digits = 1e-11; // of the expected values

    private static NoiseReading Read(Bench bench, double hertz, string net)
    {
        NoiseReading? reading = new SmallSignal(bench.Circuit, bench.Rest).Noise(hertz, bench.Circuit.Net(net));
        Assert.NotNull(reading);
        return reading;
    }

    [Theory]
    [InlineData(1e3, 1, 298.15, 4.05778510693e-9)]
    [InlineData(10e3, 20e3, 300, 1.82031799420e-6)]
    [InlineData(100e3, 20e3, 298.15, 5.73857473141e-6)]
    public void A_resistor_makes_the_noise_of_its_temperature(double ohms, double bandwidth, double kelvin, double volts)
    {
        Bench bench = new(
            """
            circuit:
              R1: {resistor: 1k, from: out, to: 0 V}
              R2: {resistor: 1k, from: out, to: 0 V}
            """,
            kelvin
        );
        bench.With("R1", "value", 2 * ohms).With("R2", "value", 2 * ohms); // two in parallel are as one
        Expect.Relative(volts, Read(bench, 1e3, "out").Density * Math.Sqrt(bandwidth), Digits);
    }

    [Fact]
    public void A_capacitor_gathers_the_root_of_kT_over_C_whatever_the_resistance()
    {
        Bench bench = new(
            """
            circuit:
              R1: {resistor: 10k, from: out, to: 0 V}
              C1: {capacitor: 1n, from: out, to: 0 V}
            """,
            300
        );
        // Over f = fc·tan(θ) the integrand is constant, so the midpoint rule is exact.
        double corner = 1 / (2 * Math.PI * 10e3 * 1e-9);
        const int Points = 64;
        double square = 0;
        for (int i = 0; i < Points; i++)
        {
            double angle = Math.PI / 2 * (i + 0.5) / Points;
            double density = Read(bench, corner * Math.Tan(angle), "out").Density;
            double width = corner / (Math.Cos(angle) * Math.Cos(angle)) * Math.PI / 2 / Points;
            square += density * density * width;
        }
        Expect.Relative(2.03517738785e-6, Math.Sqrt(square), Digits);
    }

    [Fact]
    public void A_collector_current_of_a_milliampere_shows_its_shot_noise()
    {
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 5 V, plus: +5 V, minus: 0 V}
              R1: {resistor: 1R, from: +5 V, to: out}
              I1: {current source: 1 mA, from: emitter, to: 0 V}
              C1: {capacitor: 1 F, from: emitter, to: 0 V}
              Q1: {npn: ideal, collector: out, base: 0 V, emitter: emitter, forward gain: 1e12}
            """
        );
        NoiseShare shot = Read(bench, 1e3, "out").Shares.Single(share => share.Source == "Q1 collector shot");
        Expect.Relative(17.9007074385e-12, Math.Sqrt(shot.Density), 1e-9); // 1 F holds the emitter still to 1e-5 of 1/gm
    }
}
