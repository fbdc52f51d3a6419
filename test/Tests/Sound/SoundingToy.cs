using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Sound;

/// <summary>Two small oscillators that can be heard: a saw, a pulse whose width a player moves, a frequency that it moves
/// too by another input, and a sync input.</summary>
internal static class SoundingToy
{
    private const string Oscillator = """
        module: toy
        about: A law, a capacitor, a comparator and a switch; a pulse comparator; linear modulation; sync.
        panel: {width: 10 HP, height: 3 U, depth: 30 mm}
        pitch: {control: pitch, law: 1 V/oct, reference: 100 Hz at 0 V, counted: falling through 2.5 V on core, timing capacitor: C1}
        circuit:
          X1: {power: bus, rails: [+12 V, 0 V, -12 V]}
          R9: {resistor: 100k, from: +12 V, to: -12 V}
          J1: {jack: input, label: pitch, tip: in, normal: 0 V}
          J2: {jack: input, label: width, tip: width cv, normal: 0 V}
          J3: {jack: input, label: lin fm, tip: fm cv, normal: 0 V}
          J4: {jack: input, label: sync, tip: sync in, normal: 0 V}
          R1: {resistor: 1M, from: in, to: 0 V}
          R2: {resistor: 1M, from: width cv, to: 0 V}
          R3: {resistor: 1M, from: fm cv, to: 0 V}
          R4: {resistor: 1M, from: sync in, to: 0 V}
          G1: {law: "5e-6 * exp(ln(2) * [in]) * (1 + 0.1 * [fm cv])", from: 0 V, to: core}
          C1: {capacitor: 10n, starts at: 1 V, from: core, to: 0 V}
          V1: {voltage source: "5 - 1 * step([sync in] - 2.5)", plus: limit, minus: 0 V}
          R6: {resistor: 1k, from: limit, to: 0 V}
          V2: {voltage source: 5 V, plus: logic, minus: 0 V}
          U1: {comparator: ideal, output: push-pull, delay: 100 ns, ramp: 50 ns, hysteresis: 10 mV, on resistance: 100, plus: core, minus: limit, out: gate, supply: [logic, 0 V]}
          R5: {resistor: 10k, from: gate, to: 0 V}
          S1: {analog switch: ideal, a: core, b: 0 V, control: gate, threshold: 2 V, on resistance: 0.5, off resistance: 1e15, turn time: 50 ns}
          V3: {voltage source: "2.5 + [width cv]", plus: width, minus: 0 V}
          R7: {resistor: 1k, from: width, to: 0 V}
          U2: {comparator: ideal, output: push-pull, delay: 100 ns, ramp: 50 ns, hysteresis: 10 mV, on resistance: 100, plus: core, minus: width, out: pulse, supply: [logic, 0 V]}
          R8: {resistor: 10k, from: pulse, to: 0 V}
          J5: {jack: output, label: saw, tip: core}
          J6: {jack: output, label: pulse, tip: pulse}
          J7: {jack: output, label: reset, tip: gate}
        """;

    /// <summary>The voice: both played by the keyboard, the wheel on the first one's pulse width, the shake on its frequency.</summary>
    public static Voice Voice { get; } = Read("");

    private static readonly Lazy<PlayedVoice> Prepared = new(() =>
    {
        PlayedVoice voice = PlayedVoice.Of(Voice);
        Assert.Null(voice.Prepare());
        return voice;
    });

    /// <summary>The same with more cords, and another circuit made of its own.</summary>
    public static Voice Read(string cords, Func<string, string>? change = null) =>
        ToyVoice.Read(
            $$"""
            voice: sounding toy
            about: Two oscillators that can be heard.
            limits: {tracking: 3 cents, octaves: 3, from: 0 V, drift: 20 cents, temperatures: [15 °C, 35 °C]}
            supply:
              rails:
                +12 V: {voltage: 12 V, source resistance: 1 mΩ, limit: 1 A}
                -12 V: {voltage: -12 V, source resistance: 1 mΩ, limit: 1 A}
              slot resistance: 1 mΩ
              ground slot resistance: 1 µΩ
            modules:
              o1: {module: toy}
              o2: {module: toy, stands: +4 cents}
            players:
              keyboard: {plays: pitch, resistance: 1, from: 0 V, to: 4 V}
              wheel: {plays: fixed, resistance: 1, at: 0 V}
              shake: {plays: fixed, resistance: 1, at: 0 V}
            multiples:
              split: {multiple: passive, ways: 2, width: 4 HP}
            cords:
              - {from: keyboard/out, to: split/in, length: 1 mm}
              - {from: split/1, to: o1/pitch, length: 1 mm}
              - {from: split/2, to: o2/pitch, length: 1 mm}
              - {from: wheel/out, to: o1/width, length: 1 mm}
              - {from: shake/out, to: o1/lin fm, length: 1 mm}
            {{cords}}
            """,
            ("toy", change is null ? Oscillator : change(Oscillator))
        );

    /// <summary>Prepared; take a twin.</summary>
    public static PlayedVoice Played => Prepared.Value;
}
