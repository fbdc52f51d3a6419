namespace Consort.Tests.Circuit.Published;

/// <summary>Pieces of circuit text that several tests share.</summary>
internal static class Cores
{
    /// <summary>Discharges a net's capacitor through a switch of next to no resistance from 5 V to below a nanovolt within some 250 ps:
    /// a comparator with 100 ps of delay, set against 2.51 V on 'limit', with 4.98 V of hysteresis. Other thresholds and delays
    /// are set by parameter. The solver tells events apart to 1 ps. Over many cycles use <see cref="Slowly"/>.</summary>
    public static string Reset(string net, string top = "", bool supply = true) =>
        $$"""
        U {{net}}: {comparator: ideal, plus: {{net}}, minus: limit, out: {{net}} gate, supply: [+5 V, 0 V], output: push-pull,
            hysteresis: 4.98 V, delay: 100 ps, ramp: 20 ps, on resistance: 1R, saturation voltage: 0 V}
          S {{net}}: {analog switch: ideal, a: {{(top.Length > 0 ? top : net)}}, b: 0 V, control: {{net}} gate, threshold: 2.5 V,
            on resistance: 0.1 mohm, off resistance: 1e15, turn time: 20 ps}
          R {{net}}: {resistor: 1k, from: {{net}} gate, to: 0 V}
        {{(supply ? $"  V {net}: {{voltage source: 5 V, plus: +5 V, minus: 0 V}}" : "")}}
        """;

    /// <summary>Makes the resets of a bench take some 13 ns in all instead of 250 ps.</summary>
    public static Bench Slowly(Bench bench, string net) =>
        bench
            .With($"U {net}", "delay", 5e-9)
            .With($"U {net}", "ramp", 1e-9)
            .With($"S {net}", "on resistance", 0.1)
            .With($"S {net}", "turn time", 1e-9);
}
