using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Xunit;

namespace Consort.Tests.Pitch.Locking;

/// <summary>Two saws whose limit hangs on the rail that their own pulses pull down: they feel each other as strongly as the
/// supply's resistance lets them.</summary>
internal static class LeakyToy
{
    private const string Oscillator = """
        module: leaky
        about: A law, a capacitor, a comparator and a switch; a pulse that loads the rail on which the limit hangs.
        panel: {width: 10 HP, height: 3 U, depth: 30 mm}
        pitch: {control: pitch, law: 1 V/oct, reference: 100 Hz at 0 V, counted: falling through 2.5 V on core, timing capacitor: C1}
        circuit:
          X1: {power: bus, rails: [+12 V, 0 V, -12 V]}
          R9: {resistor: 100k, from: 0 V, to: -12 V}
          J1: {jack: input, label: pitch, tip: in, normal: 0 V}
          R1: {resistor: 1M, from: in, to: 0 V}
          G1: {law: "5e-6 * exp(ln(2) * [in])", from: 0 V, to: core}
          C1: {capacitor: 10n, starts at: 1 V, from: core, to: 0 V}
          R2: {resistor: 7k, from: +12 V, to: limit}
          R3: {resistor: 5k, from: limit, to: 0 V}
          C2: {capacitor: 47n, from: limit, to: 0 V}
          V2: {voltage source: 5 V, plus: logic, minus: 0 V}
          V3: {voltage source: 2.5 V, plus: half, minus: 0 V}
          R4: {resistor: 10k, from: half, to: 0 V}
          U1: {comparator: ideal, output: push-pull, delay: 1 us, ramp: 100 ns, hysteresis: 0.2 V, on resistance: 100, plus: core, minus: limit, out: gate, supply: [logic, 0 V]}
          R5: {resistor: 10k, from: gate, to: 0 V}
          S1: {analog switch: ideal, a: core, b: 0 V, control: gate, threshold: 2 V, on resistance: 10, off resistance: 1e15, turn time: 100 ns}
          U2: {comparator: ideal, output: push-pull, delay: 100 ns, ramp: 50 ns, hysteresis: 10 mV, on resistance: 10, plus: core, minus: half, out: pulse, supply: [+12 V, 0 V]}
          R6: {resistor: 1k, from: pulse, to: 0 V}
          J5: {jack: output, label: saw, tip: core}
        """;

    /// <summary>The voice with a supply of that resistance.</summary>
    /// <param name="stands">Where the second is meant to stand; its circuit is the first's.</param>
    /// <param name="change">Makes another circuit of the oscillators' own.</param>
    public static Voice Voice(string sourceResistance, string stands = "+3 cents", Func<string, string>? change = null) =>
        ToyVoice.Read(
            $$"""
            voice: leaky toy
            about: Two oscillators on one soft supply.
            limits: {tracking: 3 cents, octaves: 3, from: 0 V, drift: 20 cents, temperatures: [15 °C, 35 °C]}
            supply:
              rails:
                +12 V: {voltage: 12 V, source resistance: {{sourceResistance}}, limit: 1 A}
                -12 V: {voltage: -12 V, source resistance: 1 mΩ, limit: 1 A}
              slot resistance: 1 mΩ
              ground slot resistance: 100 µΩ
            modules:
              o1: {module: leaky}
              o2: {module: leaky, stands: {{stands}}}
            players:
              keyboard: {plays: pitch, resistance: 1, from: 0 V, to: 4 V}
            multiples:
              split: {multiple: passive, ways: 2, width: 4 HP}
            cords:
              - {from: keyboard/out, to: split/in, length: 1 mm}
              - {from: split/1, to: o1/pitch, length: 1 mm}
              - {from: split/2, to: o2/pitch, length: 1 mm}
            """,
            ("leaky", change is null ? Oscillator : change(Oscillator))
        );

    /// <summary>The same, prepared.</summary>
    public static PlayedVoice Played(string sourceResistance, string stands = "+3 cents")
    {
        PlayedVoice voice = PlayedVoice.Of(Voice(sourceResistance, stands));
        Assert.Null(voice.Prepare());
        return voice;
    }
}
