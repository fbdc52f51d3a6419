using System.Numerics;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Wires, contacts and the drift of the parts that set a pitch. Copper by gauge and temperature is tested with the
/// ribbon's own model, the parts library with the library.</summary>
public sealed class WireAndPartTests
{
    [Theory]
    [InlineData(0.33e-6, 96.1e-12, 59, 5.68e-9)] // unbalanced
    [InlineData(0.56e-6, 58.4e-12, 97, 5.68e-9)] // balanced
    public void A_metre_of_shielded_ribbon_has_the_impedance_and_delay_of_its_sheet(double henry, double farad, double ohms, double delay)
    {
        // Data sheet TS-0672-B (26 AWG, 2009), confirmed: within its own rounding, 1.5 %. One metre's inductance and
        // capacitance resonate where √(LC) says, and have the reactance √(L/C) there.
        Bench bench = new(
            """
            circuit:
              I1: {current source: 0 A, small signal: 1 A, from: 0 V, to: line}
              L1: {inductor: 1 uH, from: line, to: 0 V}
              C1: {capacitor: 100p, from: line, to: 0 V}
              R1: {resistor: 1M, from: line, to: 0 V}
            """
        );
        bench.With("L1", "value", henry).With("C1", "value", farad);
        SmallSignal signal = new(bench.Circuit, bench.Rest);
        int line = bench.Circuit.Net("line");
        double low = 1e6;
        double high = 1e9;
        for (int i = 0; i < 60; i++)
        {
            double middle = Math.Sqrt(low * high);
            if (signal.Response(middle)![line].Imaginary > 0) // inductive below its resonance
                low = middle;
            else
                high = middle;
        }
        Expect.Relative(delay, 1 / (2 * Math.PI * low), 0.015);
        Complex half = signal.Response(low / 2)![line]; // there it is jX/(2 − 1/2)
        Expect.Relative(ohms, half.Imaginary * 1.5, 0.015);
    }

    [Fact]
    public void A_header_pin_has_the_contact_resistance_of_a_dual_socket()
    {
        // Würth 613 0xx 218 21, 2.54 mm dual socket: 20 mΩ at most (confirmed). Its 3 A are not in any model.
        ParameterSpec contact = PartKinds.Find("header")!.Parameters.Single(p => p.Word == "contact resistance");
        Assert.Equal(0.02, contact.Default);
    }

    [Fact]
    public void Ten_milliampere_in_a_shared_ground_wire_are_1_28_cents()
    {
        // 10 mA through 0.5 m of 28 AWG: 1.0645 mV = 1.2774 cents at 1 V/oct (arithmetic on 0.2129 Ω/m, so 1e-4).
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 2 V, plus: cv, minus: far ground}
              W1: {ribbon: 0.5 m, gauge: 28, contact resistance: 0 ohm, wires: [[far ground, 0 V]]}
              I1: {current source: 0 A, from: 0 V, to: far ground}
              R1: {resistor: 100M, from: cv, to: 0 V}
            """,
            293.15
        );
        double quiet = bench["cv"];
        double loaded = bench.With("I1", "value", 10e-3)["cv"];
        Expect.Relative(1.0645e-3, loaded - quiet, 1e-4);
        Expect.Relative(1.2774, 1200 * (loaded - quiet), 1e-4);
    }

    [Theory]
    [InlineData(30, 20, -1.03843)] // C0G: EIA-198, IEC 60384-8, 0 ± 30 ppm/K
    [InlineData(-30, 20, 1.0391)] // the other sign, by the same arithmetic
    [InlineData(-120, 20, 4.15996)] // polystyrene, typical
    [InlineData(-120, 10, 2.07873)]
    public void A_timing_capacitor_drifts_the_pitch_by_its_temperature_coefficient(double partsPerMillion, double warmer, double cents)
    {
        // f ∝ 1/C. From memory. 1e-4 cent: the reset's 250 ps do not drift with the capacitor.
        Bench bench = new(
            $$"""
            circuit:
              I1: {current source: 5 uA, from: 0 V, to: saw}
              C1: {capacitor: 1n, starts at: 0 V, from: saw, to: 0 V}
              V1: {voltage source: 2.51 V, plus: limit, minus: 0 V}
              {{Cores.Reset("saw")}}
            """
        );
        bench.With("C1", "tempco", partsPerMillion * 1e-6);
        double cold = bench.Period(bench.Falling("saw", 2.5), 0, 2, 3.5e-3);
        double warm = bench.At(298.15 + warmer).Period(bench.Falling("saw", 2.5), 0, 2, 3.5e-3);
        Expect.Within(cents, Expect.Cents(1 / warm, 1 / cold) * -1, 1e-4);
    }

    [Fact]
    public void A_millikelvin_across_a_pair_costs_0_02_cent_in_five_octaves_and_0_13_cent_of_tuning()
    {
        // 6000·ΔT/T at 298.15 K for the scale, 1.98 mV/K of base voltage for the offset. From memory.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 0 V, plus: base, minus: 0 V}
              pair A: {matched pair: ideal}
              V2: {voltage source: 0.5 V, plus: load, minus: 0 V}
              V3: {voltage source: 12 V, plus: +12 V, minus: 0 V}
              V4: {voltage source: -12 V, plus: -12 V, minus: 0 V}
              I1: {current source: 100 uA, from: +12 V, to: reference}
              Q1: {npn: pair A, collector: reference, base: base, emitter: tail, forward gain: 1e9}
              Q2: {npn: pair A, collector: load, base: 0 V, emitter: tail, forward gain: 1e9}
              U1: {op amp: ideal, plus: 0 V, minus: reference, out: tail, supply: [+12 V, -12 V]}
            """
        );
        double octaves5 = 5 * 17.8087387791e-3; // five octaves down
        double even = bench.Into("Q2", "collector");
        double evenLow = bench.With("V1", "value", octaves5).Into("Q2", "collector");
        bench.With("Q2", "gradient", 1e-3);
        double skewLow = bench.Into("Q2", "collector");
        double skew = bench.With("V1", "value", 0).Into("Q2", "collector");
        Expect.Within(0.133, Expect.Cents(even, skew), 1e-3); // a warmer junction carries more
        // Q2 reads the base voltage against its own thermal voltage: the five octaves shrink by ΔT/T.
        Expect.Within(0.0201241, Expect.Cents(evenLow, skewLow) - Expect.Cents(even, skew), 1e-4);
    }
}
