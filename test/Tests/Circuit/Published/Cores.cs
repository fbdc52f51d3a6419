namespace Consort.Tests.Circuit.Published;

/// <summary>Pieces of circuit text that several tests share.</summary>
internal static class Cores
{
    /// <summary>A comparator that discharges a net's capacitor from 5 V to 20 mV (it is set against 2.51 V on 'limit')
    /// in picoseconds: an open collector of next to no resistance, without delay. Supplies are ideal.</summary>
    public static string Reset(string net, string more = "") =>
        $$"""
        U {{net}}: {comparator: ideal, plus: limit, minus: {{net}}, out: {{net}}, emitter: 0 V, supply: [+12 V, 0 V],
            output: open collector, hysteresis: 4.98 V, delay: 0 s, ramp: 1 ps, on resistance: 1 mΩ, saturation voltage: 0 V{{more}}}
          V {{net}}: {voltage source: 12 V, plus: +12 V, minus: 0 V}
        """;
}
