using System.Collections.Immutable;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class CircuitReaderTests
{
    private const string Frame = "\n  V1: {voltage source: 12 V, plus: +12 V, minus: 0 V}\n  V2: {voltage source: -12 V, plus: -12 V, minus: 0 V}\n";

    private static CircuitDesign Read(string parts)
    {
        (CircuitDesign? design, ImmutableArray<InputError> errors) = CircuitFile.Parse("circuit:" + Frame + parts, "f", ExampleCircuits.Library);
        Assert.True(design is not null, string.Join('\n', errors.Select(e => e.Render())));
        return design;
    }

    private static string[] Codes(string parts) =>
        [.. CircuitFile.Parse("circuit:" + Frame + parts, "f", ExampleCircuits.Library).Errors.Select(e => e.Code)];

    private static Part PartOf(string name, string parts) => Read(parts).Parts.Single(part => part.Name == name);

    [Fact]
    public void What_is_written_wins_over_the_library_and_the_library_over_the_default()
    {
        Part part = PartOf("U1", "  U1: {op amp: TL072, offset: 1 mV, gain-bandwidth: 4 MHz, plus: 0 V, minus: o, out: o, supply: [+12 V, -12 V]}");
        Assert.Equal(1e-3, part.Number("offset")); // written
        Assert.Equal(4e6, part.Number("gain-bandwidth")); // written over the library's 3 MHz
        Assert.Equal(10e-3, part.Number("offset within")); // library
        Assert.Equal(13e6, part.Number("slew rate")); // default of the kind
        Assert.True(part.Written.SetEquals(["model", "offset", "gain-bandwidth"]));
    }

    [Theory]
    [InlineData("resistor: 56", true)]
    [InlineData("capacitor: 56", false)] // farads
    [InlineData("capacitor: 56p", true)]
    [InlineData("capacitor: 56 F", true)]
    [InlineData("capacitor: 5.6e-11", true)]
    [InlineData("inductor: 10", false)]
    public void A_bare_number_is_enough_for_ohms_and_after_a_multiplier(string value, bool reads) =>
        Assert.Equal(reads ? [] : ["C013"], Codes($"  P1: {{{value}, from: +12 V, to: -12 V}}\n"));

    [Fact]
    public void An_ideal_part_does_no_harm()
    {
        Part part = PartOf("U1", "  U1: {op amp: ideal, plus: 0 V, minus: o, out: o, supply: [+12 V, -12 V]}");
        foreach (ParameterSpec spec in part.Kind.Parameters)
            Assert.Equal(spec.Ideal ?? spec.Default, part.Number(spec.Word));
    }

    [Fact]
    public void Terminals_stand_in_the_order_of_the_kind()
    {
        Part part = PartOf("U1", "  U1: {op amp: ideal, supply: [+12 V, -12 V], out: o, minus: o, plus: 0 V}");
        Assert.Equal(["plus", "minus", "out", "supply +", "supply -"], part.Terminals.Select(joint => joint.Terminal));
        Assert.Equal(["0 V", "o", "o", "+12 V", "-12 V"], part.Terminals.Select(joint => joint.Net));
    }

    [Fact]
    public void A_free_list_numbers_its_terminals_from_1()
    {
        Part part = PartOf("SW1", "  SW1: {selector: 2, pole: 0 V, ways: [+12 V, -12 V, open]}");
        Assert.Equal(["pole", "way 1", "way 2", "way 3"], part.Terminals.Select(joint => joint.Terminal));
        Assert.Equal(2, part.Number("value"));
    }

    [Fact]
    public void A_ribbon_joins_its_nets_wire_by_wire()
    {
        Part part = PartOf("W1", "  W1: {ribbon: 12 cm, gauge: 28, wires: [[+12 V, far], [0 V, far ground]]}\n  R1: {resistor: 1k, from: far, to: far ground}");
        Assert.Equal(["wire 1 from", "wire 1 to", "wire 2 from", "wire 2 to"], part.Terminals.Select(joint => joint.Terminal));
        Assert.Equal("far ground", part.NetAt("wire 2 to"));
        Assert.Equal(0.12, part.Number("value"), 1e-15);
    }

    [Fact]
    public void An_optional_terminal_that_is_open_has_no_net_and_another_gets_one_of_its_own()
    {
        CircuitDesign design = Read("  P1: {potentiometer: 10k, ccw: open, wiper: 0 V, cw: +12 V}\n  U1: {comparator: LM311, plus: +12 V, minus: 0 V, out: open, supply: [+12 V, -12 V]}");
        Assert.Null(design.Parts.Single(p => p.Name == "P1").NetAt("ccw"));
        Assert.Equal("U1 out", design.Parts.Single(p => p.Name == "U1").NetAt("out"));
    }

    [Fact]
    public void The_second_transistor_of_a_pair_carries_its_numbers()
    {
        CircuitDesign design = Read("""
              Q1: {npn: pair A, collector: +12 V, base: 0 V, emitter: tail}
              pair A: {matched pair: matched NPN dual, offset: 20 µV}
              Q2: {npn: pair A, collector: +12 V, base: 0 V, emitter: tail, forward gain: 300}
              Q3: {npn: 2N3904, collector: +12 V, base: 0 V, emitter: tail}
              R1: {resistor: 1k, from: tail, to: -12 V}
            """);
        Part first = design.Parts.Single(p => p.Name == "Q1");
        Part second = design.Parts.Single(p => p.Name == "Q2");
        Part loose = design.Parts.Single(p => p.Name == "Q3");
        Assert.Equal(("matched NPN dual", "pair A", "1"), (first.Texts["model"], first.Texts["pair"], first.Texts["member"]));
        Assert.Equal("2", second.Texts["member"]);
        Assert.Equal((0, 20e-6), (first.Number("offset"), second.Number("offset")));
        Assert.Equal((0, 50e-6), (first.Number("offset within"), second.Number("offset within")));
        Assert.Equal(1e-3, second.Number("gradient"));
        Assert.Equal((0.4, 0.4), (first.Number("emitter resistance"), second.Number("emitter resistance")));
        Assert.Equal((100, 300, 200), (first.Number("forward gain"), second.Number("forward gain"), loose.Number("forward gain")));
        Assert.True(first.Numbers.Keys.ToHashSet().SetEquals(loose.Numbers.Keys));
        Assert.False(loose.Texts.ContainsKey("pair"));
    }

    [Fact]
    public void A_model_with_every_parameter_written_needs_no_library()
    {
        PartKind kind = PartKinds.Find("diode")!;
        string all = string.Join(", ", kind.Parameters.Select(p => $"{p.Word}: {Engine.Quantities.QuantityText.Write(p.Default!.Value, p.Dimension, 15)}"));
        Part part = PartOf("D1", $"  D1: {{diode: of our own, {all}, anode: 0 V, cathode: +12 V}}");
        Assert.Equal("of our own", part.Texts["model"]);
        Assert.Contains("C036", Codes("  D1: {diode: of our own, anode: 0 V, cathode: +12 V}"));
    }

    [Fact]
    public void A_source_is_a_quantity_or_a_formula()
    {
        CircuitDesign design = Read("  V3: {voltage source: 5 V, plus: a, minus: 0 V}\n  V4: {voltage source: \"2 * [a] + sin(2*pi*50*t)\", plus: b, minus: 0 V}\n  R1: {resistor: 1k, from: a, to: b}");
        Part plain = design.Parts.Single(p => p.Name == "V3");
        Part formula = design.Parts.Single(p => p.Name == "V4");
        Assert.Equal(5, plain.Number("value"));
        Assert.False(plain.Texts.ContainsKey("formula"));
        Assert.Equal("2 * [a] + sin(2*pi*50*t)", formula.Texts["formula"]);
        Assert.True(plain.Numbers.Keys.ToHashSet().SetEquals(formula.Numbers.Keys));
    }

    [Fact]
    public void A_limit_may_carry_its_sign_and_an_ideal_may_be_infinite()
    {
        Part part = PartOf("C1", "  C1: {capacitor: 1n, drift: ±30 ppm/K, leakage: infinite, from: +12 V, to: 0 V}");
        Assert.Equal(30e-6, part.Number("drift"), 1e-18);
        Assert.Equal(double.PositiveInfinity, part.Number("leakage"));
    }

    [Fact]
    public void An_ota_or_a_law_into_a_capacitor_sets_its_voltage_but_a_current_source_does_not()
    {
        Assert.Empty(Codes("  G1: {law: \"1e-3*(1-[a])\", from: 0 V, to: a}\n  C1: {capacitor: 1n, from: a, to: 0 V}"));
        Assert.Equal(["C041"], Codes("  I1: {current source: 1 mA, from: 0 V, to: a}\n  C1: {capacitor: 1n, from: a, to: 0 V}"));
        Assert.Empty(Codes("  I1: {current source: 1 mA, from: 0 V, to: a}\n  C1: {capacitor: 1n, starts at: 0 V, from: a, to: 0 V}"));
    }

    [Fact]
    public void Every_module_of_the_examples_reads_without_a_mistake()
    {
        foreach ((string name, string text) in ExampleCircuits.Files.Where(f => f.Name.StartsWith("examples", StringComparison.Ordinal)))
        {
            (Module? module, ImmutableArray<InputError> errors) = ModuleReader.Parse(text, name);
            Assert.True(module is not null, string.Join('\n', errors.Select(e => e.Render())));
        }
    }
}
