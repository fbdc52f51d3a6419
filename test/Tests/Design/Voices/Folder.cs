using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Tests.Design.Voices;

/// <summary>A small sound voice as a design folder on disk, with changes for one test.</summary>
internal sealed class Folder : IDisposable
{
    private readonly DirectoryInfo place = Directory.CreateTempSubdirectory("consort-");

    private readonly Dictionary<string, string> files = new()
    {
        ["voice.yaml"] = Voice,
        ["modules/lead.yaml"] = Lead,
        ["modules/follower.yaml"] = Follower,
        ["modules/mixer.yaml"] = Mixer,
        ["stock.yaml"] = Stock,
    };

    private const string Voice = """
        voice: small
        limits: {tracking: 3 cents, octaves: 5, from: 1 V, drift: 20 cents, temperatures: [15 °C, 35 °C], follower error: 3 cents, followers: 2}
        supply:
          rails:
            +12 V: {voltage: 12 V, source resistance: 20 mΩ, limit: 1 A}
            -12 V: {voltage: -12 V, source resistance: 20 mΩ, limit: 1 A}
          slot resistance: 15 mΩ
          ground slot resistance: 5 mΩ
        modules:
          lead: {module: lead, set: {P1: 25%, SW1: 2}}
          second: {module: follower, stands: +5 cents}
          mixer: {module: mixer}
          blender: {module: mixer}
        players:
          keyboard: {plays: pitch, resistance: 1k, from: 0 V, to: 9 V}
          wheel: {plays: fixed, resistance: 1k, at: 0 V}
        multiples:
          split: {multiple: passive, ways: 3, width: 4 HP}
          buffers: {multiple: buffered, ways: 2, width: 4 HP, offset within: 1 mV}
        cords:
          - {from: keyboard/out, to: split/in, length: 60 cm}
          - {from: split/1, to: lead/pitch}
          - {from: wheel/out, to: mixer/in}
          - {from: mixer/out, to: buffers/in}
          - {from: buffers/1, to: lead/fm}
        ribbons:
          - {from: lead/link, to: [second/link], length: 12 cm, gauge: 28}

        """;

    private const string Lead = """
        module: lead
        panel: {width: 20 HP, height: 3 U}
        pitch: {control: pitch, law: 1 V/oct, reference: 32.703 Hz at 0 V, counted: rising through 2.5 V on core, timing capacitor: C1}
        circuit:
          X1: {power: bus, rails: [+12 V, 0 V, -12 V]}
          J1: {jack: input, label: pitch, tip: pitch}
          J2: {jack: input, label: fm, tip: fm}
          J3: {jack: output, label: saw, tip: core}
          H1: {header: link, role: lead, pins: [pitch, 0 V, sync, 0 V]}
          R1: {resistor: 100k, from: pitch, to: 0 V}
          R2: {resistor: 100k, from: fm, to: 0 V}
          R5: {resistor: 1k, from: core, to: sync}
          R3: {resistor: 100k, from: +12 V, to: core}
          R4: {resistor: 100k, from: -12 V, to: core}
          C1: {capacitor: 1n, starts at: 0 V, from: core, to: 0 V}
          P1: {potentiometer: 10k, ccw: 0 V, wiper: core, cw: pitch}
          SW1: {selector: 1, pole: core, ways: [pitch, fm]}

        """;

    private const string Follower = """
        module: follower
        panel: {width: 10 HP, height: 3 U}
        pitch: {law: 1 V/oct, reference: 32.703 Hz at 0 V, counted: rising through 2.5 V on core, timing capacitor: C1}
        circuit:
          X1: {power: bus, rails: [+12 V, 0 V, -12 V]}
          H1: {header: link, role: follower, pins: [pitch, pitch return, sync, link return]}
          R1: {resistor: 100k, from: pitch, to: pitch return}
          R2: {resistor: 100k, from: sync, to: link return}
          R3: {resistor: 100k, from: +12 V, to: core}
          R4: {resistor: 100k, from: -12 V, to: core}
          R5: {resistor: 100k, from: pitch, to: 0 V}
          R6: {resistor: 100k, from: sync, to: 0 V}
          R7: {resistor: 10k, from: link return, to: 0 V}
          R8: {resistor: 10k, from: pitch return, to: 0 V}
          R9: {resistor: 1M, from: -12 V, to: 0 V}
          C1: {capacitor: 1n, starts at: 0 V, from: core, to: 0 V}

        """;

    private const string Mixer = """
        module: mixer
        panel: {width: 4 HP, height: 3 U}
        data sheet:
          inputs: {in: 100k, in 2: 100k}
          outputs: {out: 1k}
          current: {+12 V: 10 mA, -12 V: 10 mA}

        """;

    private const string Stock = """
        stock:
          - {resistor: E96, tolerance: 0.1%, drift: 25 ppm/K, price: 0.12, have: 200, source: our shelf}
          - {capacitor: 1n, tolerance: 1%, drift: 30 ppm/K, price: 0.25}
          - {op amp: TL072, price: 0.60}
          - {selector: any, price: 1.60}

        """;

    /// <summary>Changes a text in one of the files.</summary>
    public Folder With(string file, string old, string text)
    {
        if (!files[file].Contains(old, StringComparison.Ordinal))
            throw new ArgumentException($"{file} does not hold '{old}'");
        files[file] = files[file].Replace(old, text, StringComparison.Ordinal);
        return this;
    }

    /// <summary>The files' names, in order.</summary>
    public static string[] Names { get; } = ["modules/follower.yaml", "modules/lead.yaml", "modules/mixer.yaml", "stock.yaml", "voice.yaml"];

    /// <summary>Takes a file away.</summary>
    public Folder Without(string file)
    {
        files.Remove(file);
        return this;
    }

    /// <summary>Writes the files and reads the folder.</summary>
    public (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) Read()
    {
        foreach ((string file, string text) in files)
            Write(file, text);
        return VoiceFolder.Read(place.FullName);
    }

    /// <summary>Reads the folder with one file changed, of files that <see cref="Read"/> has written before.</summary>
    public (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) ReadWith(string file, string text)
    {
        Write(file, text);
        try
        {
            return VoiceFolder.Read(place.FullName);
        }
        finally
        {
            Write(file, files[file]);
        }
    }

    /// <summary>One of the files as it stands.</summary>
    public string this[string file] => files[file];

    public void Dispose() => place.Delete(recursive: true);

    private void Write(string file, string text)
    {
        string path = Path.Combine(place.FullName, file);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
    }
}
