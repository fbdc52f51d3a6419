using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Wiring;

public sealed class VoiceCircuitTests
{
    [Fact]
    public void A_members_parts_and_nets_have_its_name_in_front_and_its_own_zero_volt_net()
    {
        CircuitDesign circuit = VoiceCircuit.Build(
            Make.Voice(Make.Member("lead", Make.Module("m", Make.Part("R3", "resistor", 1e5, "pitch sum", "0 V"))))
        );
        Part part = Part(circuit, "lead/R3");
        Assert.Equal("lead/pitch sum", part.NetAt("from"));
        Assert.Equal("lead/0 V", part.NetAt("to"));
        Assert.Equal(1e5, part.Number("value"));
    }

    [Fact]
    public void The_transistors_of_a_pair_name_the_pair_of_their_own_member()
    {
        Part pair = Make.Part("pair A", "matched pair", 0);
        Part q = Make.Part("Q1", "npn", 0, "c", "b", "e");
        q = q with { Texts = q.Texts.SetItem("model", "pair A") };
        Module module = Make.Module("m", pair, q);
        CircuitDesign circuit = VoiceCircuit.Build(Make.Voice(Make.Member("a", module), Make.Member("b", module)));
        Assert.Equal("a/pair A", Part(circuit, "a/Q1").Texts["model"]);
        Assert.Equal("b/pair A", Part(circuit, "b/Q1").Texts["model"]);
    }

    [Fact]
    public void A_formula_reads_voltages_against_its_own_modules_zero_volt()
    {
        Part law = Make.Part("G1", "law", 0, "0 V", "out");
        law = law with { Texts = law.Texts.SetItem("formula", "1e-3 * tanh([in] / 2) + [0 V]") };
        CircuitDesign circuit = VoiceCircuit.Build(Make.Voice(Make.Member("a", Make.Module("m", law))));
        Assert.Equal("1e-3 * tanh(([a/in] - [a/0 V]) / 2) + 0", Part(circuit, "a/G1").Texts["formula"]);
    }

    [Fact]
    public void A_switch_with_an_open_reference_is_controlled_against_its_modules_zero_volt()
    {
        Module module = Make.Module("m", Make.Part("S1", "analog switch", 0, "a", "b", "gate"));
        CircuitDesign circuit = VoiceCircuit.Build(Make.Voice(Make.Member("x", module)));
        Assert.Equal("x/0 V", Part(circuit, "x/S1").NetAt("reference"));
    }

    [Fact]
    public void Setting_a_control_moves_a_pots_position_and_a_selectors_way()
    {
        Module module = Make.Module(
            "m",
            Make.Part("P1", "potentiometer", 1e5, "a", "b", "c"),
            Make.Part("SW1", "selector", 1, "pole", "x", "y")
        );
        Member member = Make.Member("m", module);
        member = member with { Set = member.Set.Add("P1", 0.25).Add("SW1", 2) };
        CircuitDesign circuit = VoiceCircuit.Build(Make.Voice(member));
        Assert.Equal(0.25, Part(circuit, "m/P1").Number("position"));
        Assert.Equal(1e5, Part(circuit, "m/P1").Number("value"));
        Assert.Equal(2, Part(circuit, "m/SW1").Number("value"));
    }

    [Fact]
    public void A_normal_feeds_the_tip_only_while_nothing_is_plugged_in()
    {
        Module module = Make.Module("m", Make.Jack("J1", "pitch", "input", "cv", "bias"));
        Voice free = Make.Voice(Make.Member("m", module)) with { Players = [Make.Player("keyboard", 1e3, 1)] };
        Voice plugged = free with { Cords = [Make.Cord("keyboard/out", "m/pitch")] };
        Part normal = Part(VoiceCircuit.Build(free), "m/J1 normal");
        Assert.Equal(("m/bias", "m/cv"), (normal.NetAt("from"), normal.NetAt("to")));
        Assert.DoesNotContain(VoiceCircuit.Build(plugged).Parts, part => part.Name == "m/J1 normal");
    }

    [Fact]
    public void A_player_is_a_source_behind_its_resistance_against_the_star_point()
    {
        Voice voice = Make.Voice() with { Players = [Make.Player("keyboard", 1e3, 2.5)] };
        CircuitDesign circuit = VoiceCircuit.Build(voice);
        Part source = Part(circuit, "keyboard/V");
        Assert.Equal((2.5, "0 V"), (source.Number("value"), source.NetAt("minus")));
        Assert.Equal(1e3, Part(circuit, "keyboard/R").Number("value"));
        Assert.Equal("keyboard/out", Part(circuit, "keyboard/R").NetAt("to"));
    }

    [Fact]
    public void A_cord_joins_tips_and_the_two_modules_grounds()
    {
        Module module = Make.Module("m", Make.Jack("J1", "in", "input", "x"), Make.Jack("J2", "out", "output", "y"));
        Voice voice = Make.Voice(Make.Member("a", module), Make.Member("b", module)) with
        {
            Cords = [Make.Cord("a/out", "b/in", 1)],
        };
        CircuitDesign circuit = VoiceCircuit.Build(voice);
        Part tip = Part(circuit, "a/out to b/in tip");
        Part screen = Part(circuit, "a/out to b/in screen");
        Assert.Equal(("a/y", "b/x"), (tip.NetAt("from"), tip.NetAt("to")));
        Assert.Equal(("a/0 V", "b/0 V"), (screen.NetAt("from"), screen.NetAt("to")));
        // The kinds' defaults: 0.2 Ω/m at 20 °C and 20 mΩ in each jack; copper 5 K warmer at 25 °C.
        Assert.Equal(0.2 * (1 + 5 * 0.00393) + 0.04, tip.Number("value"), 1e-12);
        double total = circuit.Parts.Where(part => part.Kind.Word == "capacitor").Sum(part => part.Number("value"));
        Assert.Equal(100e-12, total, 1e-18);
    }

    [Fact]
    public void Wiring_without_resistance_keeps_both_names_and_closes_no_loop_of_sources()
    {
        Module module = Make.Module("m", Make.Part("X1", "power", 0, "+12 V", "0 V"), Make.Part("X2", "power", 0, "+12 V", "0 V"));
        module = module with
        {
            Circuit = [.. module.Circuit.Select(part => part with { Numbers = part.Numbers.SetItem("contact resistance", 0) })],
        };
        Voice voice = Make.Voice(Make.Member("m", module)) with
        {
            Supply = new([new("+12 V", 12, 0, 0, 1)], 0, 0),
        };
        CircuitDesign circuit = VoiceCircuit.Build(voice);
        Assert.DoesNotContain(circuit.Parts, part => part.Kind.Word == "resistor");
        int sources = circuit.Parts.Length;
        int nets = circuit.Parts.SelectMany(part => part.Terminals).Select(joint => joint.Net).Distinct().Count();
        Assert.Equal(nets - 1, sources); // a tree: one source fewer than nets, ground included
        Assert.Contains(circuit.Parts, part => part.Terminals.Any(joint => joint.Net == "m/0 V"));
    }

    [Fact]
    public void The_same_voice_gives_the_same_parts_in_the_same_order()
    {
        Assert.Equal(
            VoiceCircuit.Build(Make.Linked(3)).Parts.Select(Line),
            VoiceCircuit.Build(Make.Linked(3)).Parts.Select(Line)
        );
    }

    [Fact]
    public void No_two_parts_have_one_name()
    {
        IEnumerable<string> names = VoiceCircuit.Build(Make.Linked(5)).Parts.Select(part => part.Name);
        Assert.Equal(names.Count(), names.Distinct().Count());
    }

    private static string Line(Part part) =>
        $"{part.Name} {part.Kind.Word} {string.Join(',', part.Terminals)} {part.Numbers.GetValueOrDefault("value"):R}";

    private static Part Part(CircuitDesign circuit, string name) =>
        Assert.Single(circuit.Parts, part => part.Name == name);
}
