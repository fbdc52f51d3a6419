using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Planning;
using Xunit;

namespace Consort.Tests.Planning;

public sealed class CaseCheckTests
{
    [Fact]
    public void A_rail_of_500_mA_with_six_loads_has_30_percent_left()
    {
        // Arithmetic: 45 + 30 + 80 + 25 + 110 + 60 = 350 mA of 500 mA.
        RailMargin rail = new("+12 V", new[] { 45e-3, 30e-3, 80e-3, 25e-3, 110e-3, 60e-3 }.Sum(), 0.5, new(0, 0));
        Assert.Equal((0.350, 0.150, 0.300), (Math.Round(rail.Amps, 12), Math.Round(rail.Left, 12), Math.Round(rail.Share, 12)));
    }

    [Theory]
    // Two contacts a rail, 1 A each (Molex PS-171856: ratings are of single circuits, and are not to be multiplied by the
    // number of contacts without derating): 2 A pass if they share evenly, and no more.
    [InlineData(0.9, true, true)]
    [InlineData(2.0, true, false)]
    [InlineData(2.01, false, false)]
    public void Two_contacts_of_one_ampere_carry_two_only_when_they_share(double amps, bool passes, bool safeAlone)
    {
        PinShare share = new(amps, 2, 1);
        Assert.Equal((passes, safeAlone), (share.Passes, share.IsSafeAlone));
    }

    [Fact]
    public void Inrush_is_that_of_the_ladder_of_resistances_and_the_charge_that_of_the_capacitors()
    {
        // By hand: each module has 1 uF behind 0.2 ohm at the end of two contacts and one slot more than the one before:
        // Z2 = 0.03 + 2c + 0.2, Z1 = 0.03 + (2c + 0.2) || Z2, peak = 12/(0.02 + Z1).
        Voice voice = Two();
        double contact = PartKinds.Find("power")!.Parameters.First(parameter => parameter.Word == "contact resistance").Default!.Value;
        double leg = (2 * contact) + 0.2, z2 = 0.03 + leg, z1 = 0.03 + (leg * z2 / (leg + z2));
        Inrush inrush = Inrush.Of(voice, voice.Supply.Rails[0]);
        Assert.Equal(12 / (0.02 + z1), inrush.PeakAmps, 1e-9);
        Assert.Equal(2 * 1e-6 * 12, inrush.Coulombs, 1e-18);
        Assert.Equal(24e-6 / 0.4, inrush.SecondsAtLimit(0.1, 0.5), 1e-12);
        Assert.True(double.IsPositiveInfinity(inrush.SecondsAtLimit(0.5, 0.5)));
    }

    [Fact]
    public void The_drop_in_a_slot_is_the_current_through_the_bus_before_it()
    {
        // Two modules that each draw 12 mA through 1k: 24 mA through the source and the first slot, 12 mA through the second.
        Voice voice = Two();
        PlayedVoice played = PlayedVoice.Of(voice, TestContext.Current.CancellationToken);
        CaseCheck check = CaseCheck.Of(played, played.Rest(0).State!, [Place("a", 0), Place("b", 0.05)], RackCase.Any, ImmutableDictionary<string, double>.Empty, 0);
        double contact = PartKinds.Find("power")!.Parameters.First(parameter => parameter.Word == "contact resistance").Default!.Value;
        // Exact: solved as a ladder with the loads' own resistance, so the current is a little less than 12 mA.
        double second = check.Slots[1].DropVolts["+12 V"] - check.Slots[0].DropVolts["+12 V"];
        Assert.Equal(0.03 * 12e-3, second, 1e-6);
        Assert.Equal(24e-3, check.Rails[0].Amps, 1e-4);
        Assert.Equal(12e-3 / 3, check.Contacts.Max(load => load.Amps / load.Rating), 1e-5);
        Assert.Equal(0.010 * 24e-3 + 12e-3 * contact, check.Slots[0].GroundVolts, 1e-6);
        Assert.Empty(check.Warnings);
    }

    [Fact]
    public void What_does_not_fit_is_told_with_its_reason()
    {
        Voice voice = Two();
        voice = voice with { Supply = voice.Supply with { Rails = [voice.Supply.Rails[0] with { Limit = 0.026 }] } };
        ImmutableArray<RailMargin> rails = [new("+12 V", 0.024, 0.026, new(0, 0))];
        ImmutableArray<RowPlace> places = [Place("a", 0), Place("b", 0) with { Row = 1 }];
        ImmutableArray<string> warnings = CaseWarnings.Of(voice, places, new(0.03, 1, 0.04, 2, 1), rails,
            [new("a", 0, ImmutableDictionary<string, double>.Empty, -1.5e-3, -1.8)], [new("a/X1 +12 V", 4, 3)], [("+12 V", "a", new(1.5, 2, 1))]);
        foreach (string words in new[] { "fills 2 rows and the case has 1", "50.8 mm wide and a row 30 mm", "45 mm deep and the case 40 mm", "8 % left", "carries 4000 mA and is rated for 3000 mA", "share them evenly", "moves a by up to -1.8 cents" })
            Assert.Contains(words, string.Join('\n', warnings), StringComparison.Ordinal);
    }

    private static RowPlace Place(string name, double left) => new(name, 0, left, 0.0508, 0.1285, []);

    private static Voice Two()
    {
        (Module? module, ImmutableArray<InputError> errors) = ModuleReader.Parse("""
            module: load
            panel: {width: 10 HP, height: 3 U, depth: 45 mm}
            circuit:
              X1: {power: bus, rails: [+12 V, 0 V]}
              C1: {capacitor: 1u, series resistance: 0.2, from: +12 V, to: 0 V}
              R1: {resistor: 1k, from: +12 V, to: 0 V}

            """, "modules/load.yaml");
        Assert.True(module is not null, string.Join('\n', errors.Select(error => error.Render())));
        Member a = new("a", module, 0, ImmutableDictionary<string, double>.Empty, SourceSpan.None);
        return new("two", "", [a, a with { Name = "b" }], [], [], [], [], new([new("+12 V", 12, 0.02, 0, 0.5)], 0.02, 0.01), new(3, 5, 1, 20, 288.15, 308.15, 3, null));
    }
}
