namespace Consort.Tests.Circuit.Published;

/// <summary>Pieces of circuit text that several tests share.</summary>
internal static class Cores
{
    /// <summary>Discharges a net's capacitor through a switch of next to no resistance from 5 V to below a nanovolt within some 25 ps:
    /// a comparator with 10 ps of delay, set against 2.51 V on 'limit', with 4.98 V of hysteresis. Other thresholds and delays
    /// are set by parameter.</summary>
    public static string Reset(string net, string bottom = "0 V", string top = "") =>
        $$"""
        U {{net}}: {comparator: ideal, plus: {{net}}, minus: limit, out: {{net}} gate, supply: [+5 V, 0 V], output: push-pull,
            hysteresis: 4.98 V, delay: 10 ps, ramp: 1 ps, on resistance: 1R, saturation voltage: 0 V}
          S {{net}}: {analog switch: ideal, a: {{(top.Length > 0 ? top : net)}}, b: {{bottom}}, control: {{net}} gate, threshold: 2.5 V,
            on resistance: 0.1 mohm, off resistance: 1e15, turn time: 1 ps}
          R {{net}}: {resistor: 1k, from: {{net}} gate, to: 0 V}
          V {{net}}: {voltage source: 5 V, plus: +5 V, minus: 0 V}
        """;
}
