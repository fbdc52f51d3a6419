using Consort.Engine.Circuit.Signal;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Noise of transistors through bank, solver and small-signal analysis.</summary>
public sealed class NoiseTests
{
    private const double FourKT = 4.05778510693e-9 * 4.05778510693e-9 / 1000; // per ohm at 298.15 K

    [Fact]
    public void A_transistors_input_noise_is_that_of_its_base_and_half_its_emitter_resistance()
    {
        // Gray, Hurst, Lewis, Meyer ch. 11 (from memory): en² = 4kT·(rb + re/2), re = VT/Ic, while the base current's
        // noise meets no resistance but rb. At 1 mA, rb 100 Ω, gain a million: 4kT·(100 + 12.846) V²/Hz.
        Rig rig = new(
            """
            VB: {voltage source: 0.6573 V, plus: b, minus: 0 V}
            VC: {voltage source: 5 V, plus: s, minus: 0 V}
            R1: {resistor: 1 mohm, from: s, to: c}
            Q1: {npn: ideal, forward gain: 1e6, base resistance: 100 ohm, nominal temperature: 25 °C, collector: c, base: b, emitter: 0 V}
            """
        );
        double collector = rig.Current("Q1", "collector");
        double emitterResistance = 25.6925791211e-3 / collector;
        double density = new SmallSignal(rig.Circuit, rig.State)
            .Noise(1e3, rig.Circuit.Net("c"), rig.Circuit.Net("s"))!
            .Density;
        double thermal = FourKT * 1e-3; // of the load itself
        double input = (density * density - thermal) * Math.Pow(emitterResistance / 1e-3, 2);
        double expected = FourKT * (100 + emitterResistance / 2);
        Assert.Equal(expected, input, 2e-4 * expected);
    }

    [Fact]
    public void A_base_currents_noise_doubles_its_power_at_the_flicker_corner()
    {
        Rig rig = new(
            """
            I1: {current source: 1 µA, from: 0 V, to: b}
            VC: {voltage source: 5 V, plus: c, minus: 0 V}
            Q1: {npn: ideal, forward gain: 100, flicker corner: 1 kHz, collector: c, base: b, emitter: 0 V}
            """
        );
        int b = rig.Circuit.Net("b");
        SmallSignal signal = new(rig.Circuit, rig.State);
        double Share(double hertz) =>
            signal.Noise(hertz, b)!.Shares.First(share => share.Source == "Q1 base shot").Density;
        Assert.Equal(2, Share(1e3) / Share(1e9), 1e-5);
    }

    [Fact]
    public void A_saturated_channel_is_two_thirds_as_noisy_as_its_transconductance()
    {
        // van der Ziel, Proc. IRE 50 (1962) 1808 (from memory): 4kT·(2/3)·gm in saturation, 4kT/R at vds = 0.
        Rig rig = new(
            """
            VG: {voltage source: 3 V, plus: g, minus: 0 V}
            VC: {voltage source: 10 V, plus: s, minus: 0 V}
            R1: {resistor: 1 ohm, from: s, to: d}
            M1: {n mosfet: ideal, threshold: 2 V, transconductance: 1 mA/V², nominal temperature: 25 °C, drain: d, gate: g, source: 0 V}
            """
        );
        double Channel()
        {
            NoiseReading reading = new SmallSignal(rig.Circuit, rig.State).Noise(1e3, rig.Circuit.Net("d"))!;
            return reading.Shares.First(share => share.Source == "M1 channel thermal").Density;
        }
        Assert.Equal(FourKT * 2 / 3 * 1e-3, Channel(), 1e-12 * FourKT);
        rig.With("VC", "value", 0);
        Assert.Equal(FourKT * 1e-3, Channel() * Math.Pow(1.001, 2), 1e-9 * FourKT);
    }
}
