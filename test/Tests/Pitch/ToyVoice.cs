using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Pitch;

/// <summary>
/// Voices small enough to solve by hand: an ideal exponential law charges a capacitor from its input net, a comparator
/// and a switch let it go. So every cent has one known reason.
/// </summary>
internal static class ToyVoice
{
    /// <summary>A module that loads its pitch input with a resistor; its dead time of some 2 µs is nothing against 1 s.</summary>
    public static string Oscillator(string name, string inputResistance, string trims = "", string more = "", string gain = "1") =>
        $$"""
        module: {{name}}
        about: A law, a capacitor, a comparator and a switch.
        panel: {width: 10 HP, height: 3 U, depth: 30 mm}
        pitch: {control: pitch, law: 1 V/oct, reference: 1 Hz at 0 V, counted: falling through 2.5 V on core, timing capacitor: C1}
        {{trims}}
        circuit:
          X1: {power: bus, rails: [+12 V, 0 V, -12 V]}
          R9: {resistor: 100k, from: +12 V, to: -12 V}
          J1: {jack: input, label: pitch, tip: in, normal: 0 V}
          R1: {resistor: {{inputResistance}}, tolerance: 1%, from: in, to: 0 V}
          {{more}}
          G1: {law: "0.5e-6 * exp(ln(2) * ([{{(more.Length > 0 ? "scaled" : "in")}}] * {{gain}}))", from: 0 V, to: core}
          C1: {capacitor: 100n, tolerance: 1%, starts at: 1 V, from: core, to: 0 V}
          V1: {voltage source: 5 V, plus: limit, minus: 0 V}
          V2: {voltage source: 5 V, plus: logic, minus: 0 V}
          U1: {comparator: ideal, output: push-pull, delay: 1 us, ramp: 100 ns, hysteresis: 0.2 V, on resistance: 100, plus: core, minus: limit, out: gate, supply: [logic, 0 V]}
          R2: {resistor: 10k, from: gate, to: 0 V}
          S1: {analog switch: ideal, a: core, b: 0 V, control: gate, threshold: 2 V, on resistance: 0.5, off resistance: 1e15, turn time: 100 ns}
        """;

    private const string LimitsAndSupply = """
        limits: {tracking: 3 cents, octaves: 3, from: 0 V, drift: 20 cents, temperatures: [15 °C, 35 °C]}
        supply:
          rails:
            +12 V: {voltage: 12 V, source resistance: 1 mΩ, limit: 1 A}
            -12 V: {voltage: -12 V, source resistance: 1 mΩ, limit: 1 A}
          slot resistance: 1 mΩ
          ground slot resistance: 1 µΩ
        """;

    private const string Keyboard = """
        players:
          keyboard: {plays: pitch, resistance: 1k, from: 0 V, to: 4 V}
        """;

    /// <summary>A folder with one voice.yaml and modules, read; the folder is gone afterwards.</summary>
    public static Voice Read(string voice, params (string Name, string Text)[] modules)
    {
        DirectoryInfo place = Directory.CreateTempSubdirectory("consort-toy-");
        try
        {
            place.CreateSubdirectory("modules");
            File.WriteAllText(Path.Combine(place.FullName, "voice.yaml"), voice);
            foreach ((string name, string text) in modules)
                File.WriteAllText(Path.Combine(place.FullName, "modules", $"{name}.yaml"), text);
            (Voice? read, _, System.Collections.Immutable.ImmutableArray<InputError> errors) = VoiceFolder.Read(place.FullName);
            Assert.True(read is not null, string.Join('\n', errors.Select(error => error.Render())));
            return read;
        }
        finally
        {
            place.Delete(recursive: true);
        }
    }

    /// <summary>A keyboard of 1 kΩ into n oscillators through a passive multiple.</summary>
    public static Voice OnMultiple(int count, string module) =>
        Read(
            $$"""
            voice: toy
            about: A keyboard into {{count}} equal inputs.
            {{LimitsAndSupply}}
            modules:
            {{string.Join('\n', Enumerable.Range(1, count).Select(i => $"  o{i}: {{module: toy}}"))}}
            {{Keyboard}}
            multiples:
              split: {multiple: passive, ways: {{count}}, width: 4 HP}
            cords:
              - {from: keyboard/out, to: split/in, length: 1 mm}
            {{string.Join('\n', Enumerable.Range(1, count).Select(i => $"  - {{from: split/{i}, to: o{i}/pitch, length: 1 mm}}"))}}
            """,
            ("toy", module)
        );

    /// <summary>The same keyboard into one oscillator and a bought module with an input of that resistance.</summary>
    public static Voice BesideBought(string module, string inputResistance, string tracking) =>
        Read(
            $$"""
            voice: toy
            about: A keyboard into an oscillator and a bought module.
            {{LimitsAndSupply}}
            modules:
              own: {module: toy}
              other: {module: bought}
            {{Keyboard}}
            multiples:
              split: {multiple: passive, ways: 2, width: 4 HP}
            cords:
              - {from: keyboard/out, to: split/in, length: 1 mm}
              - {from: split/1, to: own/pitch, length: 1 mm}
              - {from: split/2, to: other/v per octave, length: 1 mm}
            """,
            ("toy", module),
            (
                "bought",
                $$"""
                module: bought
                panel: {width: 8 HP, height: 3 U}
                data sheet:
                  inputs: {fm: 47k, v per octave: {{inputResistance}}}
                  outputs: {saw: 1k}
                  tracking: {{tracking}}
                  current: {+12 V: 60 mA, -12 V: 50 mA}
                """
            )
        );
}
