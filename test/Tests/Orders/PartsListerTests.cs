using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Documents.Parts;
using Consort.Engine.Orders;
using Consort.Tests.Design.Voices;
using CsCheck;
using Xunit;

namespace Consort.Tests.Orders;

public sealed class PartsListerTests
{
    [Fact]
    public void Every_part_that_one_can_buy_is_counted_once()
    {
        foreach (string example in new[] { "quartet", "pair", "patched", "shoestring" })
        {
            (Voice voice, Stock stock) = Example(example);
            PartsOrder order = new PartsLister(voice, stock, PartsLibrary.BuiltIn).List(1);
            foreach (IGrouping<string, Module> module in voice.Members.Select(member => member.Module).GroupBy(module => module.Name))
            {
                // A transistor of a pair comes with it; U1A and U1B are U1.
                string[] wanted =
                [
                    .. module.First().Circuit.Where(part => !part.Texts.ContainsKey("pair"))
                        .Select(part => part.Name[^1] is 'A' or 'B' && part.Kind.Word != "matched pair" ? part.Name[..^1] : part.Name).Distinct().Order(StringComparer.Ordinal),
                ];
                string[] listed =
                [
                    .. order.Lines.SelectMany(line => line.Places).Where(place => place.Module == module.Key).SelectMany(place => place.Designators).Order(StringComparer.Ordinal),
                ];
                Assert.Equal(wanted, listed);
            }
            Assert.Equal(0, order.Unpriced);
        }
    }

    [Fact]
    public void Two_op_amps_of_one_package_are_one_piece_and_a_lone_one_leaves_a_section_idle()
    {
        PartsOrder order = Order("""
              U1A: {op amp: TL072, plus: a, minus: b, out: b, supply: [+12 V, -12 V]}
              U1B: {op amp: TL072, plus: b, minus: c, out: c, supply: [+12 V, -12 V]}
              U2: {op amp: TL072, plus: c, minus: d, out: d, supply: [+12 V, -12 V]}
            """);
        OrderLine line = order.Lines.Single(line => line.Kind == "op amp");
        Assert.Equal(2, line.PerVoice);
        Assert.Equal(["U1", "U2"], line.Places[0].Designators);
        Assert.Equal("DIP-8", line.Package); // TI SLOS080
        Assert.Equal("lead: 1 of 2 sections of U2 (TL072) used: tie the inputs of the rest.", order.Notes[0]);
    }

    [Fact]
    public void A_matched_pair_is_bought_as_one_piece_without_its_transistors()
    {
        PartsOrder order = Order("""
              pair A: {matched pair: matched NPN dual, offset within: 50 µV}
              Q1: {npn: pair A, collector: a, base: b, emitter: c}
              Q2: {npn: pair A, collector: d, base: b, emitter: c}
              Q3: {npn: 2N3904, collector: a, base: d, emitter: c}
            """);
        Assert.Equal(1, order.Lines.Single(line => line.Kind == "matched pair").Need);
        Assert.Equal(["Q3"], order.Lines.Single(line => line.Kind == "npn").Places[0].Designators);
    }

    [Fact]
    public void Members_of_an_array_are_one_piece()
    {
        PartsOrder order = Order("""
              R10: {resistor: 10k, tolerance: 1%, array: RN1, array match: 0.05%, from: a, to: b}
              R11: {resistor: 10k, tolerance: 1%, array: RN1, array match: 0.05%, from: b, to: c}
              R12: {resistor: 10k, tolerance: 1%, from: c, to: a}
            """);
        OrderLine array = order.Lines.Single(line => line.What.Contains("array", StringComparison.Ordinal));
        Assert.Equal(("10k 1% array of 2", 1), (array.What, array.Need));
        Assert.Equal(["RN1"], array.Places[0].Designators);
    }

    [Fact]
    public void Only_a_grade_as_tight_as_asked_will_do_and_the_cheapest_of_them_is_taken()
    {
        PartsOrder order = Order("  R10: {resistor: 10k, tolerance: 1%, drift: 50 ppm/K, from: a, to: b}", """
            stock:
              - {resistor: E24, tolerance: 5%, drift: 50 ppm/K, price: 0.01}
              - {resistor: E24, tolerance: 1%, drift: 100 ppm/K, price: 0.02}
              - {resistor: E24, tolerance: 1%, price: 0.02}
              - {resistor: E24, tolerance: 1%, drift: 50 ppm/K, tempco: 3300 ppm/K, price: 0.02}
              - {resistor: E96, tolerance: 0.1%, drift: 25 ppm/K, price: 0.14, have: 7, source: drawer}
              - {resistor: E24, tolerance: 1%, drift: 50 ppm/K, price: 0.03}
            """);
        OrderLine line = order.Lines.Single(line => line.Kind == "resistor");
        Assert.Equal(0.03m, line.Each);
        Assert.Equal([new Substitute("10k 0.1% 25 ppm/K", 0.14m, 7, "drawer")], line.Substitutes);
    }

    [Fact]
    public void Two_grades_that_one_entry_serves_are_one_line_in_the_tighter_grade_and_share_the_shelf()
    {
        PartsOrder order = Order(
            "  R10: {resistor: 12k, tolerance: 5%, from: a, to: b}\n  R11: {resistor: 12k, tolerance: 1%, from: b, to: c}",
            "stock: [{resistor: E24, tolerance: 1%, price: 0.02, have: 1}]");
        OrderLine line = order.Lines.Single(line => line.Kind == "resistor");
        Assert.Equal(("12k 1%", 2, 1, 1), (line.What, line.Need, line.Have, line.Missing));
    }

    [Fact]
    public void A_value_outside_the_series_is_not_found_in_it()
    {
        // IEC 60063: 11k3 is of E96 and not of E24.
        PartsOrder order = Order("  R10: {resistor: 11k3, tolerance: 1%, from: a, to: b}", "stock: [{resistor: E24, tolerance: 1%, price: 0.02}]");
        OrderLine line = order.Lines.Single(line => line.Kind == "resistor");
        Assert.False(line.InStock);
        Assert.Null(line.Each);
        Assert.Equal(order.Lines.Length, order.Unpriced);
    }

    [Fact]
    public void Spares_shelf_packs_and_units_make_the_number_to_buy()
    {
        PartsOrder order = Order(
            "  R10: {resistor: 12k, tolerance: 1%, from: a, to: b}\n  R11: {resistor: 12k, tolerance: 1%, from: b, to: c}",
            "stock: [{resistor: E24, tolerance: 1%, price: 0.02, have: 30, spare: 10%, sold in: 25}]", units: 40);
        OrderLine line = order.Lines.Single(line => line.Kind == "resistor");
        // 2 in each of 40: 80, and 8 spare; 30 on the shelf: 58 are missing, in packs of 25 it is 75.
        Assert.Equal((80, 8, 30, 50, 75, 1.50m), (line.Need, line.Spares, line.Have, line.Missing, line.Buy, line.Cost));
    }

    [Fact]
    public void The_next_price_break_is_bought_where_more_pieces_cost_less()
    {
        SaleTerms terms = new([new(100, 0.05), new(1000, 0.02)], 1, null);
        Assert.Equal((80, 8.0m), Buying.Best(80, 0.10, new([new(100, 0.09)], 1, null)));
        Assert.Equal((100, 5.00m), Buying.Best(60, 0.10, terms));
        Assert.Equal((49, 4.90m), Buying.Best(49, 0.10, terms));
        Assert.Equal((100, 5.00m), Buying.Best(51, 0.10, terms));
        Assert.Equal((50, 5.00m), Buying.Best(50, 0.10, terms)); // of equal cost the smaller number
    }

    [Fact]
    public void What_is_bought_is_enough_and_no_number_costs_less() =>
        Gen.Select(Gen.Int[1, 60], Gen.Int[1, 12], Gen.Int[2, 40].Array[0, 3], Gen.Int[1, 50].Array[3, 3]).Sample((missing, soldIn, froms, prices) =>
        {
            ImmutableArray<PriceBreak> breaks = [.. froms.Distinct().Order().Select((from, i) => new PriceBreak(from, prices[i] / 100.0))];
            SaleTerms terms = new(breaks, soldIn, null);
            (int count, decimal? cost) = Buying.Best(missing, 0.30, terms);
            Assert.True(count >= missing && count % soldIn == 0);
            for (int other = missing; other < 200; other++)
                if (other % soldIn == 0)
                    Assert.True(cost <= Buying.Each(other, 0.30, terms) * other);
        });

    [Fact]
    public void The_cost_of_a_voice_is_that_of_its_modules_and_of_what_joins_them()
    {
        (Voice voice, Stock stock) = Example("quartet");
        PartsOrder order = new PartsLister(voice, stock, PartsLibrary.BuiltIn).List(10);
        decimal joined = order.Lines.Sum(line => line.Places.Where(place => place.Module == "voice").Sum(place => place.Copies * place.Count * line.Each!.Value));
        Assert.Equal(order.VoiceCost, order.Modules.Sum(module => module.Copies * module.Cost) + joined);
        Assert.Equal(order.ToBuy, order.Lines.Sum(line => line.Cost));
    }

    [Fact]
    public void The_bags_hold_what_the_voice_needs_and_nothing_else()
    {
        (Voice voice, Stock stock) = Example("patched");
        PartsOrder order = new PartsLister(voice, stock, PartsLibrary.BuiltIn).List(3);
        Assert.Equal(order.Lines.Sum(line => line.PerVoice), order.Bags.Sum(bag => bag.Copies * bag.Items.Sum(item => item.Count)));
        Assert.Equal(order.Bags.Length, order.Bags.Select(bag => (bag.Module, bag.Step)).Distinct().Count());
        Assert.All(order.Bags.SelectMany(bag => bag.Items), item => Assert.True(item.Designators.IsEmpty || item.Designators.Length == item.Count));
    }

    [Fact]
    public void Extras_follow_the_parts_that_they_belong_to()
    {
        PartsOrder order = Order("  P2: {potentiometer: 10k, ccw: a, wiper: b, cw: c}", """
            extras:
              - {extra: knob, each: potentiometer, price: 0.40}
              - {extra: screw, each: module, count: 4, only: lead, price: 0.05}
              - {extra: box, each: voice, price: 20}
            stock: []
            """);
        Assert.Equal(2, order.Lines.Single(line => line.What == "knob").Need); // P1 and P2 of the lead
        Assert.Equal(4, order.Lines.Single(line => line.What == "screw").Need);
        Assert.Equal(1, order.Lines.Single(line => line.What == "box").Need);
    }

    [Theory]
    [InlineData("R1, R2, R3, R5", "R1-R3, R5")]
    [InlineData("R2, R1", "R1, R2")]
    [InlineData("R10, R9, R8, C1", "C1, R8-R10")]
    [InlineData("pair A, U1", "U1, pair A")]
    public void Runs_of_designators_are_drawn_together(string given, string written) =>
        Assert.Equal(written, Ranges.Write(given.Split(", ")));

    private static (Voice, Stock) Example(string name)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", name));
        return (voice!, stock!);
    }

    // The small voice of the folder tests, with more parts in its lead.
    private static PartsOrder Order(string parts, string? stock = null, int units = 1)
    {
        using Folder folder = new();
        folder.With("modules/lead.yaml", "  SW1: {", parts.TrimEnd() + "\n  R90: {resistor: 1M, from: a, to: 0 V}\n  R91: {resistor: 1M, from: b, to: 0 V}\n  R92: {resistor: 1M, from: c, to: b}\n  R95: {resistor: 1M, from: c, to: a}\n  R93: {resistor: 1M, from: d, to: 0 V}\n  R94: {resistor: 1M, from: d, to: c}\n  SW1: {");
        if (stock is not null)
            folder.With("stock.yaml", folder["stock.yaml"], stock);
        (Voice? voice, Stock? shelf, ImmutableArray<InputError> errors) = folder.Read();
        Assert.Empty(errors.Select(error => error.Render()));
        PartsOrder order = new PartsLister(voice!, shelf!, PartsLibrary.BuiltIn).List(units);
        bool IsOurs(OrderLine line) => !line.Places.All(place => place.Designators.All(name => name.StartsWith("R9", StringComparison.Ordinal) || (name.Length == 2 && name[0] == 'R')))
            || line.Places.Any(place => place.Designators.IsEmpty);
        return order with { Lines = [.. order.Lines.Where(IsOurs)], Unpriced = order.Lines.Count(line => line.Each is null && IsOurs(line)) };
    }
}
