using Consort.Engine.Design;
using Consort.Engine.Documents.Panels;
using Xunit;

namespace Consort.Tests.Documents.Panels;

public sealed class PanelCheckTests
{
    private const string Circuit = """
        circuit:
          J1: {jack: input, label: in, tip: a}
          J2: {jack: output, label: out, tip: b}
          P1: {potentiometer: 10k, ccw: 0 V, wiper: a, cw: b}
          RV1: {trimmer: 10k, ccw: 0 V, wiper: a, cw: b}
          R1: {resistor: 10k, from: a, to: 0 V}
          R2: {resistor: 10k, from: b, to: 0 V}
        """;

    [Fact]
    public void The_examples_break_no_rule()
    {
        foreach (string example in new[] { "quartet", "pair", "patched", "shoestring" })
        {
            PanelSet set = PanelFilesTests.Set(example);
            Assert.Empty(set.Without);
            Assert.Empty(set.Panels.SelectMany(panel => panel.Findings).Select(finding => finding.Render()));
        }
    }

    [Theory]
    // checks J2: IEC 60297-3-101 with a clearance of 0.3 mm; 0.4 mm makes 5 HP 25.00 mm.
    [InlineData(4, null, 20.02)]
    [InlineData(8, null, 40.34)]
    [InlineData(10, null, 50.50)]
    [InlineData(12, null, 60.66)]
    [InlineData(14, null, 70.82)]
    [InlineData(5, "0.4 mm", 25.00)]
    public void A_sheet_of_so_many_HP_has_the_standards_width_less_the_clearance(int hp, string? clearance, double width)
    {
        CheckedPanel panel = Panel($"width: {hp} HP, height: 3 U{(clearance is null ? "" : $", clearance: {clearance}")}", "J1: {at: [10 mm, 100 mm]}", circuit: "circuit: {J1: {jack: input, label: in, tip: a}, R1: {resistor: 1k, from: a, to: 0 V}}");
        Assert.Equal(width, panel.Drawing.Width, 1e-9);
        Assert.Equal(128.5, panel.Drawing.Height, 1e-9); // checks J1: 3 U
    }

    [Fact]
    public void Rack_slots_stand_where_the_standard_has_them()
    {
        // checks J1: 122.5 mm apart, 3.0 mm from the edges, the first 7.5 mm from the left; rail holes every 5.08 mm.
        PanelHole[] slots = [.. PanelFilesTests.Set("quartet").Panels[0].Drawing.Holes.Where(hole => hole.Name == "mounting")];
        Assert.Equal(4, slots.Length);
        Assert.Equal([7.5, 7.5 + (17 * 5.08)], slots.Select(slot => slot.Middle.X).Distinct(), new Within(1e-9));
        Assert.Equal(122.5, slots.Max(slot => slot.Middle.Y) - slots.Min(slot => slot.Middle.Y), 1e-9);
        Assert.Equal(3.0, slots.Min(slot => slot.Middle.Y), 1e-9);
    }

    [Theory]
    [InlineData("C085", "J1: {at: [20 mm, 100 mm]}, J2: {at: [27 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "J2 and J1 touch: 7 mm from middle to middle, where nuts and knobs take 8.5 mm")]
    [InlineData("C085", "J1: {at: [20 mm, 100 mm], fits: jack 6.35 mm}, J2: {at: [35 mm, 100 mm], fits: jack 6.35 mm}, P1: {at: [20 mm, 40 mm]}", "J2 and J1 overlap behind the panel")]
    [InlineData("C086", "J1: {at: [20 mm, 100 mm]}, J2: {at: [30 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "J2 and J1 are 10 mm apart, where hand or plug need 11 mm")]
    [InlineData("C087", "J1: {at: [4.5 mm, 100 mm]}, J2: {at: [30 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "J1: 1.4 mm of sheet are left beside its hole")]
    [InlineData("C087", "J1: {at: [5.5 mm, 100 mm]}, J2: {at: [30 mm, 100 mm], fits: big}, P1: {at: [9 mm, 40 mm], knob: 20 mm}", "P1 sticks out over the side")]
    [InlineData("C088", "J1: {at: [20 mm, 115 mm]}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "J1 stands in the way of the rail: 8.25 mm from the edge, where 10 mm belong to it")]
    [InlineData("C090", "J1: {at: [20.3 mm, 100 mm]}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "J1 stands at 20.3, 100 mm, off the grid of 0.5 mm")]
    [InlineData("C089", "J1: {at: [20 mm, 100 mm], fits: deep}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "J1 is 15 mm deep, and the board stands 10 mm behind the panel")]
    [InlineData("C091", "J1: {at: [20 mm, 100 mm]}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm], legend: a word that is much too long}", "the legend 'a word that is much too long' of P1 runs over the edge of the panel")]
    [InlineData("C091", "J1: {at: [20 mm, 100 mm], legend: linear fm, legend at: right}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "the legend 'linear fm' of J1 lies under J2 or its plug")]
    [InlineData("C091", "J1: {at: [14 mm, 100 mm], legend: long input}, J2: {at: [28 mm, 100 mm], legend: output}, P1: {at: [20 mm, 40 mm]}", "the legend 'output' of J2 runs into 'long input'")]
    [InlineData("C093", "J1: {at: [20 mm, 100 mm], legend: вход}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}", "'вход': the alphabet has no 'вход'")]
    public void A_broken_rule_is_told_with_its_place_and_how_to_mend_it(string code, string places, string what)
    {
        CheckedPanel panel = Panel("width: 9 HP, height: 3 U, depth: 40 mm, grid: 0.5 mm, title: x, board: {behind: 10 mm}, fittings: {deep: {like: jack 3.5 mm, depth: 15 mm}, big: {hole: 7 mm, nut: 9 mm}}", places);
        InputError finding = panel.Findings.First(finding => finding.Code == code);
        Assert.Equal(what, finding.What);
        Assert.Equal("modules/m.yaml", finding.At.File);
        Assert.True(finding.At.Line > 1);
        Assert.NotEmpty(finding.Mend);
        Assert.False(panel.Passes);
    }

    [Fact]
    public void A_jack_that_breaks_both_rules_of_the_side_is_moved_by_one_distance_and_then_breaks_neither()
    {
        const string Rest = "J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}";
        InputError[] Edges(string at) => [.. Panel("width: 9 HP, height: 3 U, title: x, board: {behind: 10 mm}", $"J1: {{at: [{at}, 100 mm]}}, {Rest}").Findings.Where(finding => finding.Code == "C087")];
        InputError[] both = Edges("3.5 mm");
        Assert.Equal(2, both.Length);
        string distance = both[1].Mend.Replace("move it ", "", StringComparison.Ordinal).Replace(" mm inward", "", StringComparison.Ordinal);
        Assert.EndsWith(both[1].Mend, both[0].Mend, StringComparison.Ordinal);
        Assert.Empty(Edges(FormattableString.Invariant($"{3.5 + double.Parse(distance, System.Globalization.CultureInfo.InvariantCulture):0.###} mm")));
    }

    [Fact]
    public void Two_that_touch_are_moved_by_one_distance_and_then_leave_room_for_the_hand_too()
    {
        InputError[] Between(string at) => [.. Panel("width: 9 HP, height: 3 U, title: x, board: {behind: 10 mm}", $"J1: {{at: [20 mm, 100 mm]}}, J2: {{at: [{at}, 100 mm]}}, P1: {{at: [20 mm, 40 mm]}}").Findings.Where(finding => finding.Code is "C085" or "C086")];
        InputError touching = Assert.Single(Between("27 mm"));
        Assert.Equal(("C085", "move them 4 mm apart: hand or plug need 11 mm"), (touching.Code, touching.Mend));
        Assert.Empty(Between("31 mm"));
    }

    [Fact]
    public void Small_letters_and_a_depth_that_is_too_small_are_told()
    {
        CheckedPanel panel = Panel("width: 9 HP, height: 3 U, depth: 20 mm, text: 1.2 mm, title: '', board: {behind: 10 mm, tall: 12 mm}", "J1: {at: [20 mm, 100 mm]}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}");
        Assert.Contains(panel.Findings, finding => finding.Code == "C092" && finding.What == "'in' is 1.2 mm high" && finding.Mend == "set 'text' to 1.5 mm or more");
        Assert.Contains(panel.Findings, finding => finding.Code == "C089" && finding.What == "panel: board and plugs reach 23.6 mm behind the panel, and the module states 20 mm");
    }

    [Fact]
    public void A_trimmer_without_a_hole_is_a_note_and_breaks_no_rule()
    {
        CheckedPanel panel = Panel("width: 9 HP, height: 3 U, title: x, board: {behind: 10 mm}", "J1: {at: [20 mm, 100 mm]}, J2: {at: [33 mm, 100 mm]}, P1: {at: [20 mm, 40 mm]}");
        InputError note = Assert.Single(panel.Findings);
        Assert.Equal(("C094", true, "panel: RV1 has no hole in the panel"), (note.Code, note.IsNote, note.What));
        Assert.True(panel.Passes);
    }

    [Fact]
    public void A_module_without_places_is_named()
    {
        Module module = Read("module: m\npanel: {width: 8 HP, height: 3 U}\n" + Circuit);
        PanelSet set = PanelSet.Of(VoiceOf(module), _ => null);
        Assert.Empty(set.Panels);
        Assert.Equal("C084", Assert.Single(set.Without).Code);
    }

    [Fact]
    public void The_page_on_panels_lists_the_usual_forms_as_they_are()
    {
        string page = File.ReadAllText(Path.Combine(Golden.Root, "docs", "panels.md"));
        foreach ((string kind, Fitting f) in Fittings.All)
            Assert.Contains($"| {f.Word} | {kind} | {1e3 * f.Hole:0.#} | {1e3 * f.Nut:0.#} | {1e3 * f.Knob:0.#} | {1e3 * f.Hand:0.#} | {1e3 * f.BodyWidth:0.#} × {1e3 * f.BodyHeight:0.#} | {1e3 * f.Depth:0.#} |\n", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_letter_of_the_alphabet_keeps_to_its_height_and_its_width()
    {
        foreach (char c in "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+-−±/.,:()%'\"!?&=#*<>_°·µΩ→")
        {
            Assert.Empty(StrokeFont.Missing($"{c}"));
            var points = StrokeFont.Draw($"{c}", 0, 0, 6).SelectMany(stroke => stroke.Points).ToArray();
            Assert.InRange(points.Max(point => point.Y), c == '_' ? -1 : 0, 7);
            Assert.InRange(points.Min(point => point.Y), -2, 6);
            double half = StrokeFont.Width($"{c}", 6) / 2;
            Assert.All(points, point => Assert.InRange(point.X, -half - 0.5, half + 0.5)); // Q, whose tail hangs over
        }
    }

    internal static CheckedPanel Panel(string panel, string places, string circuit = Circuit)
    {
        string text = $"module: m\npanel: {{{panel},\n  places: {{{places}}}}}\n{circuit}";
        return Assert.Single(PanelSet.Of(VoiceOf(Read(text)), _ => SourceText.Of(text, "modules/m.yaml")).Panels);
    }

    private static Module Read(string text)
    {
        (Module? module, var errors) = ModuleReader.Parse(text, "modules/m.yaml");
        Assert.Empty(errors.Select(error => error.Render()));
        return module!;
    }

    private static Voice VoiceOf(Module module) =>
        new("v", "", [new("m", module, 0, System.Collections.Immutable.ImmutableDictionary<string, double>.Empty, SourceSpan.None)], [], [], [], [], new([], 0, 0), InventedProof.Limits);

    private sealed class Within(double distance) : IEqualityComparer<double>
    {
        public bool Equals(double a, double b) => Math.Abs(a - b) < distance;

        public int GetHashCode(double value) => 0;
    }
}
