using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Oscillators that charge a capacitor to a threshold and back. Their switches are ideal but for picoseconds, so a
/// period agrees to a few ramps (1 to 20 ps each) and to the solver's resolution of events, 1 ps.</summary>
public sealed class RelaxationTests
{
    private static readonly Accuracy Tight = new(1e-8);

    [Theory]
    [InlineData(10e3, 2.19722457734)] // β = 1/2
    [InlineData(20e3, 1.38629436112)] // β = 1/3
    public void A_Schmitt_trigger_with_R_and_C_has_the_period_of_its_feedback(double ohms, double periods)
    {
        // T = 2RC·ln((1 + β)/(1 − β)): Franco, Design with Operational Amplifiers, ch. 10; Sedra and Smith. From memory.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 10 V, plus: +10 V, minus: 0 V}
              V2: {voltage source: -10 V, plus: -10 V, minus: 0 V}
              U1: {comparator: ideal, plus: limit, minus: timing, out: square, supply: [+10 V, -10 V], output: push-pull,
                delay: 0 s, ramp: 1 ps, on resistance: 0.1 mohm, saturation voltage: 0 V}
              R1: {resistor: 10k, from: square, to: timing}
              C1: {capacitor: 10n, starts at: 0 V, from: timing, to: 0 V}
              R2: {resistor: 10k, from: limit, to: 0 V}
              R3: {resistor: 10k, from: square, to: limit}
            """
        );
        bench.With("R3", "value", ohms);
        double period = bench.Period(bench.Rising("timing", 1), 1, 5, 1.5e-3, Tight);
        Expect.Relative(periods, period / 100e-6, 1e-7);
    }

    [Fact]
    public void A_timer_between_one_and_two_thirds_of_its_supply_runs_as_its_data_sheet_says()
    {
        // NE555 data sheet (TI SLFS022), astable operation: tH = ln 2·(RA + RB)·C, tL = ln 2·RB·C. From memory. The two
        // comparators and the flip-flop are one comparator with a third of the supply as hysteresis.
        Bench bench = new(
            """
            circuit:
              V1: {voltage source: 5 V, plus: +5 V, minus: 0 V}
              V2: {voltage source: 2.5 V, plus: middle, minus: 0 V}
              RA: {resistor: 1k, from: +5 V, to: discharge}
              RB: {resistor: 10k, from: discharge, to: timing}
              C1: {capacitor: 10n, starts at: 0 V, from: timing, to: 0 V}
              U1: {comparator: ideal, plus: middle, minus: timing, out: discharge, emitter: 0 V, supply: [+5 V, 0 V],
                hysteresis: 1.666666666666667 V, delay: 0 s, ramp: 1 ps, on resistance: 0.1 mohm, saturation voltage: 0 V}
            """
        );
        Transient run = bench.Start(Tight, null, bench.Rising("discharge", 1), bench.Falling("discharge", 1));
        Bench.Run(run, 1e-3);
        double[] rises = [.. run.Crossings.Where(crossing => crossing.Probe == 0).Select(crossing => crossing.Time)];
        double fall = run.Crossings.First(crossing => crossing.Probe == 1 && crossing.Time > rises[1]).Time;
        double period = rises[2] - rises[1];
        Expect.Relative(6869.97638519, 1 / period, 5e-7); // the open collector's 1e-10 S takes 1e-7 of the voltage behind 1 kΩ
        Expect.Within(0.523809524, (fall - rises[1]) / period, 2e-7);
        Expect.Relative(1.44 / (21e3 * 10e-9), 1 / period, 0.002); // the sheet's rounded form: 6857.14 Hz
    }

    private static string Saw(string more) =>
        $$"""
        circuit:
          I1: {current source: 5 uA, from: 0 V, to: saw}
          {{Cores.Reset("saw", top: "top")}}
        {{more}}
        """;

    private const string Dead = """
          V1: {voltage source: 3 V, plus: limit, minus: 0 V}
          R1: {resistor: 1k, from: saw, to: top}
          C1: {capacitor: 1n, starts at: 0 V, from: top, to: 0 V}
        """;

    /// <summary>5 V up, 1 V down; the reset is held for 0.5 µs before and 0.5 µs after the discharge.</summary>
    private static Bench WithDeadTime(double ohms, double amperes) =>
        new Bench(Saw(Dead))
            .With("U saw", "hysteresis", 4)
            .With("U saw", "delay", 0.5e-6)
            .With("R1", "value", ohms)
            .With("I1", "value", amperes);

    [Theory]
    [InlineData(5e-6, 999.000999001, -1.73036901)]
    [InlineData(50e-6, 9900.99009901, -17.2263516)]
    public void A_dead_time_of_a_microsecond_flattens_the_high_notes(double amperes, double hertz, double cents)
    {
        // f = 1/(CΔV/I + tr): S. Franco, Hardware Design of a Real-time Musical System, thesis, University of Illinois,
        // 1974 (not seen); Franco's textbook, voltage-to-frequency converters. From memory.
        Bench bench = WithDeadTime(0.01, amperes); // the resistor of the next test, next to nothing here
        double measured = 1 / bench.Period(bench.Rising("saw", 3), 0, 4, 5.2e-9 * 5 / amperes, Tight);
        Expect.Relative(hertz, measured, 5e-7); // ramps: 40 ps in 100 µs
        Expect.Within(cents, Expect.Cents(amperes / 5e-9, measured), 1e-3);
    }

    [Theory]
    [InlineData(50e-6)]
    [InlineData(5e-6)]
    [InlineData(200e-6)]
    public void A_resistor_of_the_dead_time_over_the_capacitor_makes_up_for_it_at_every_current(double amperes)
    {
        // Franco's rule R·C = reset time (the rule is confirmed, the thesis not seen): 1 kΩ with 1 nF for 1 µs.
        Bench bench = WithDeadTime(1000, amperes);
        double period = bench.Period(bench.Rising("saw", 3), 0, 4, 5.2e-9 * 5 / amperes, Tight);
        Expect.Within(0, Expect.Cents(amperes / 5e-9, 1 / period), 0.01); // 0: 10 kHz at 50 µA. 40 ps in 25 µs is 0.003 cent
        if (amperes == 50e-6)
            Expect.Relative(100e-6, period, 1e-6);
    }

    [Theory]
    [InlineData(10e-6, 0.462517287e-6, 2018.31614927)]
    [InlineData(100e-6, 0.482631173e-6, 20006.9499449)]
    public void A_reset_through_100_ohm_takes_the_logarithm_of_its_voltages(double amperes, double reset, double hertz)
    {
        // tr = RonC·ln((5 − IRon)/(0.05 − IRon)), the charging current left on: RC law.
        Bench bench = new(
            Saw(
                """
                  V1: {voltage source: 2.525 V, plus: limit, minus: 0 V}
                  R1: {resistor: 0.1m, from: saw, to: top}
                  C1: {capacitor: 1n, starts at: 0.05 V, from: saw, to: 0 V}
                """
            )
        );
        bench.With("U saw", "hysteresis", 4.95).With("U saw", "delay", 0).With("U saw", "ramp", 1e-12);
        bench.With("S saw", "turn time", 1e-12).With("S saw", "on resistance", 100).With("I1", "value", amperes);
        double period = bench.Period(bench.Falling("saw", 2.5), 0, 2, 3.5 / hertz, Tight);
        // A picosecond more at 50 mV takes 0.5 µV off the capacitor, which the current needs 50 ps at 10 µA to bring back.
        Expect.Relative(hertz, 1 / period, 1e-6);
        Expect.Within(reset, period - 1e-9 * 4.95 / amperes, 100e-12);
    }
}
