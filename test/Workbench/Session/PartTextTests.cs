using Consort.Engine.Design;
using Consort.Workbench.Session;
using Xunit;

namespace Consort.Workbench.Tests.Session;

public sealed class PartTextTests
{
    private const string Module = """
        module: one
        circuit:
          R3: {resistor: 100k, tolerance: 0.1%, from: sum, to: out} # sets the scale
          U1A: {op amp: TL072, plus: 0 V, minus: sum, out: out, supply: [+12 V, -12 V]}
          C4: # in lines of its own
            capacitor: 22p
            from: sum
            to: out
        panel: {width: 8 HP}

        """;

    private static readonly SourceText Source = SourceText.Of(Module, "modules/one.yaml");

    [Fact]
    public void A_part_is_added_after_the_one_it_is_like_and_taken_out_without_a_trace()
    {
        string? more = PartText.More(Source, "U1A", "U2A", new Dictionary<string, string> { ["out"] = "other", ["minus"] = "-5 V" });
        Assert.Equal(Module.Replace("-12 V]}\n", "-12 V]}\n  U2A: {op amp: TL072, plus: 0 V, minus: -5 V, out: other, supply: [+12 V, -12 V]}\n", StringComparison.Ordinal), more);
        Assert.Equal(Module, PartText.Without(SourceText.Of(more!, "modules/one.yaml"), "U2A"));
    }

    [Fact]
    public void A_part_in_lines_of_its_own_is_copied_and_taken_out_whole()
    {
        string? more = PartText.More(Source, "C4", "C5", new Dictionary<string, string> { ["capacitor"] = "1n" });
        Assert.Equal(Module.Replace("    to: out\n", "    to: out\n  C5: {capacitor: 1n, from: sum, to: out}\n", StringComparison.Ordinal), more);
        Assert.Equal(Module.Replace("  C4: # in lines of its own\n    capacitor: 22p\n    from: sum\n    to: out\n", "", StringComparison.Ordinal), PartText.Without(Source, "C4"));
    }

    [Theory]
    [InlineData("R3", "C4", "a name that is taken")]
    [InlineData("R9", "R10", "nothing to go by")]
    public void What_cannot_be_added_is_not(string like, string name, string why) =>
        Assert.True(PartText.More(Source, like, name, new Dictionary<string, string>()) is null, why);

    [Theory]
    [InlineData("R3", "R4")]
    [InlineData("U1A", "U2")]
    [InlineData("C4", "C5")]
    public void The_next_name_follows_the_highest(string like, string next) =>
        Assert.Equal(next, PartText.NextName(PartText.Circuit(Source)!.Entries.Select(entry => entry.Key), like));

    [Fact]
    public void Its_value_and_single_nets_are_asked_and_all_nets_are_offered()
    {
        YamlMap circuit = PartText.Circuit(Source)!;
        Assert.Equal([("op amp", "TL072"), ("plus", "0 V"), ("minus", "sum"), ("out", "out")], PartText.Asked((YamlMap)circuit.Find("U1A")!.Value));
        Assert.Equal(["+12 V", "-12 V", "0 V", "out", "sum"], PartText.Nets(circuit));
    }
}
