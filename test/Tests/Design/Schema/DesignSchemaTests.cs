using Consort.Engine.Design.Schema;
using NJsonSchema;
using NJsonSchema.Validation;
using Xunit;

namespace Consort.Tests.Design.Schema;

public sealed class DesignSchemaTests
{
    [Theory]
    [InlineData("circuit")]
    [InlineData("module")]
    [InlineData("voice")]
    [InlineData("stock")]
    public void The_published_schema_is_what_the_program_prints(string word)
    {
        string path = Path.Combine(Golden.Root, "docs", "schema", $"{word}.json");
        string printed = DesignSchema.Find(word)!.Text;
        if (Environment.GetEnvironmentVariable("CONSORT_GOLDEN") == "write")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllText(path, printed);
        }
        Assert.Equal(File.ReadAllText(path), printed);
    }

    public static TheoryData<string> Examples()
    {
        string root = Path.Combine(Golden.Root, "examples");
        return [.. Directory.EnumerateFiles(root, "*.yaml", SearchOption.AllDirectories)
            .Where(path => Path.GetFileName(path) != "parts.yaml")
            .Select(path => Path.GetRelativePath(root, path).Replace('\\', '/'))
            .Order(StringComparer.Ordinal)];
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public async Task An_example_validates(string file)
    {
        string yaml = await File.ReadAllTextAsync(Path.Combine(Golden.Root, "examples", file), TestContext.Current.CancellationToken);
        Assert.Empty((await Errors(WordOf(file), yaml)).Select(Told));
    }

    [Theory]
    [InlineData("circuit", "circuit:\n  R1: {resistor: 100k, from: a}", "a resistor without its second net")]
    [InlineData("circuit", "circuit:\n  R1: {resistor: 100k, from: a, to: b, tolerence: 1%}", "a misspelt parameter")]
    [InlineData("circuit", "circuit:\n  R1: {resitor: 100k, from: a, to: b}", "a misspelt kind")]
    [InlineData("circuit", "circuit:\n  R1: {resistor: 100 F, from: a, to: b}", "farads for ohms")]
    [InlineData("circuit", "circuit:\n  R1: {resistor: 4k7k, from: a, to: b}", "two multipliers")]
    [InlineData("circuit", "circuit:\n  C1: {capacitor: 1n, starts at: 5, from: a, to: b}", "a voltage without unit")]
    [InlineData("circuit", "circuit:\n  U1: {op amp: TL072, plus: a, minus: b, out: b, supply: [+12 V]}", "one of two supplies")]
    [InlineData("circuit", "circuit:\n  J1: {jack: inwards, label: a, tip: a}", "a direction that is none")]
    [InlineData("module", "module: a\npanel: {width: 20, height: 3 U}\ncircuit: {}", "a width without unit")]
    [InlineData("module", "module: a\npanel: {width: 20 HP}", "a panel without height")]
    [InlineData("module", "module: a\npanel: {width: 8 HP, height: 3 U}\ntrims: [{trimmer: RV1, for: tuning}]", "a trim for nothing known")]
    [InlineData("voice", "voice: a\nmodules: {lead: {module: a}}", "no supply")]
    [InlineData("voice", "voice: a\nsupply: {rails: {}}\nmodules: {lead: {modul: a}}", "a misspelt word")]
    [InlineData("voice", "voice: a\nsupply: {rails: {}}\nmodules: {}\ncords: [{from: a/b}]", "half a cord")]
    [InlineData("voice", "voice: a\nsupply: {rails: {}}\nmodules: {}\nplayers: {k: {plays: chords}}", "a player of chords")]
    [InlineData("stock", "stock: [{resitor: E96}]", "a misspelt kind")]
    [InlineData("stock", "stock: [{resistor: E96, price: cheap}]", "a price in words")]
    public async Task A_typical_mistake_does_not_validate(string word, string yaml, string mistake)
    {
        Assert.True((await Errors(word, yaml)).Count > 0, mistake);
    }

    [Theory]
    [InlineData("R1: {resistor: 4k7, from: a, to: b}")]
    [InlineData("R1: {resistor: R47, from: a, to: b}")]
    [InlineData("R1: {resistor: 4.7 kΩ, tolerance: 0.1%, drift: 25 ppm/K, from: a, to: 0 V}")]
    [InlineData("R1: {resistor: 4700, tolerance: 0.001, from: a, to: b}")]
    [InlineData("C1: {capacitor: 4n7, leakage: infinite, tempco: -120 ppm/K, from: a, to: b}")]
    [InlineData("U1: {op amp: TL072, plus: a, minus: b, out: b, supply: [+12 V, -12 V], slew rate: 13 V/µs, voltage noise: 18 nV/√Hz}")]
    [InlineData("U1: {op amp: TL072, plus: a, minus: b, out: b, supply: [+12 V, -12 V], slew rate: 13 V/us, voltage noise: 18 nV/rtHz}")]
    [InlineData("G1: {law: \"1e-3 * [a]\", from: a, to: b}")]
    [InlineData("V1: {voltage source: 5 V, frequency: 1 kHz, amplitude: 1 V, plus: a, minus: 0 V}")]
    [InlineData("H1: {header: link, role: lead, pins: [a, b]}")]
    [InlineData("pair A: {matched pair: matched NPN dual, offset within: 50 µV}")]
    public async Task What_the_trade_writes_validates(string part) =>
        Assert.Empty((await Errors("circuit", $"circuit:\n  {part}\n")).Select(Told));

    private static async Task<ICollection<ValidationError>> Errors(string word, string yaml)
    {
        JsonSchema schema = await JsonSchema.FromJsonAsync(DesignSchema.Find(word)!.Text, TestContext.Current.CancellationToken);
        return schema.Validate(YamlAsJson.Convert(yaml));
    }

    private static string WordOf(string file) =>
        file.StartsWith("circuits/", StringComparison.Ordinal) ? "circuit"
        : file.Contains("/modules/", StringComparison.Ordinal) ? "module"
        : Path.GetFileNameWithoutExtension(file);

    private static string Told(ValidationError error) => error.ToString();
}
