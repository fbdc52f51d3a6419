using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Xunit;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Circuit.Wiring;

/// <summary>Voices wired up and solved by the engine, against published values.</summary>
public sealed class WiringSolveTests
{
    private const double TwentyDegrees = 293.15;

    [Theory]
    // Voltage divider, Thévenin/Norton (Desoer & Kuh 1969, from memory): 1200·(ratio − 1) cent per volt of CV.
    [InlineData(1, -11.8811881)]
    [InlineData(2, -23.5294118)]
    [InlineData(3, -34.9514563)]
    [InlineData(4, -46.1538462)]
    [InlineData(8, -88.8888889)]
    public void Equal_inputs_on_a_passive_multiple_load_a_player(int inputs, double cents)
    {
        Module module = Make.Module("input", Make.Jack("J1", "cv", "input", "cv"), Make.Part("R1", "resistor", 100e3, "cv", "0 V"));
        Voice voice = Make.Voice([.. Enumerable.Range(1, inputs).Select(i => Make.Member($"m{i}", module))]) with
        {
            Players = [Make.Player("keyboard", 1e3, 1)],
            Multiples = [new("split", false, inputs, 0, 0, 0, 0, Make.Nowhere)],
            Cords =
            [
                Make.Cord("keyboard/out", "split/in"),
                .. Enumerable.Range(1, inputs).Select(i => Make.Cord($"split/{i}", $"m{i}/cv")),
            ],
        };
        (Compiled circuit, double[] x) = Solve(voice, TwentyDegrees);
        double seen = x[circuit.Net("m1/cv")] - x[circuit.Net("m1/0 V")];
        // Tips and screens of two cords with their contacts (0.16 Ω each) are in the circuit and not in the published value.
        Assert.Equal(cents, 1200 * (seen - 1), 1200 * inputs * 0.66 / 100e3);
    }

    [Theory]
    // ASTM B258 (geometry), IEC 60028 (resistivity): Ω/m at 20 °C.
    [InlineData(24, 0.0842132)]
    [InlineData(26, 0.133904)]
    [InlineData(28, 0.212916)]
    [InlineData(30, 0.338550)]
    public void A_metre_of_ribbon_wire_has_the_published_resistance(double gauge, double ohms)
    {
        Voice voice = Carrying(1, 1, gauge, contacts: 0);
        Assert.Equal(ohms, WireDrop(voice, TwentyDegrees), 1e-6 * 0.5);
    }

    [Theory]
    // Molex PS-171856-0001, one circuit alone, 30 K of rise (from memory).
    [InlineData(22, 4)]
    [InlineData(24, 3.75)]
    [InlineData(26, 3.5)]
    [InlineData(28, 3)]
    // Not on the sheet: the copper of 30 AWG is 0.629 of that of 28 (ASTM B258).
    [InlineData(30, 1.887)]
    public void A_crimped_contact_may_carry_what_its_sheet_says(double gauge, double amps) =>
        Assert.Equal(amps, ContactRating.OfCrimp(gauge), 1e-3);

    [Fact]
    public void A_ribbon_wire_that_carries_more_than_its_contact_may_is_found()
    {
        // Socket of 2.54 mm pitch, two rows: 3 A (Würth 613 0xx 218 21). 28 AWG crimped: 3 A.
        Voice voice = Carrying(3.3, 0.3, 28, contacts: 0.02);
        Compiled circuit = Compiled.Compile(VoiceCircuit.Build(voice));
        (RestState? state, _) = new OperatingPoint(circuit).Find();
        ContactLoad worst = SupplyLoad.ReadContacts(circuit, state!)[0];
        Assert.Equal(3.3, worst.Amps, 1e-6);
        Assert.Equal(3, worst.Rating);
        Assert.Contains("wire", worst.Wire, StringComparison.Ordinal);
    }

    [Fact]
    public void Copper_at_60_degrees_has_the_published_resistance() =>
        // IEC 60028, α20 = 0.00393/K (from memory): 0.24636788 Ω/m from 0.2129 at 20 °C, scaled to the unrounded 0.212916.
        Assert.Equal(0.24636788 * 0.212916 / 0.2129, WireDrop(Carrying(1, 1, 28, contacts: 0), 333.15), 1e-6);

    [Fact]
    public void Half_an_ampere_through_a_ribbon_and_two_contacts_drops_the_published_voltage() =>
        // 0.5 A, 0.3 m of 28 AWG, two 20 mΩ contacts: 51.935 mV, computed from 0.2129 Ω/m; 2.4 µV are that rounding.
        Assert.Equal(51.935e-3, WireDrop(Carrying(0.5, 0.3, 28, contacts: 0.02), TwentyDegrees), 3e-6);

    [Fact]
    public void Ten_milliamperes_shared_with_a_pitch_return_cost_the_published_cents()
    {
        // 10 mA, 0.5 m of 28 AWG: 1.0645 mV, 1.2774 cent at 1 V/octave (from 0.2129 Ω/m).
        double volts = WireDrop(Carrying(10e-3, 0.5, 28, contacts: 0), TwentyDegrees);
        Assert.Equal(1.0645e-3, volts, 1e-7);
        Assert.Equal(1.2774, 1200 * volts, 2e-4);
    }

    [Fact]
    public void A_rail_drops_across_source_slots_and_contacts()
    {
        // Ohm: members draw 12 V/120 Ω each; the second sits one slot further.
        Module load = Make.Module("load", Make.Part("X1", "power", 0, "+12 V", "0 V"), Make.Part("R1", "resistor", 120, "+12 V", "0 V"));
        Voice voice = Make.Voice(Make.Member("a", load), Make.Member("b", load));
        (Compiled circuit, double[] x) = Solve(voice, 298.15);
        double At(string net) => x[circuit.Net(net)];
        double current = (At("b/+12 V") - At("b/0 V")) / 120;
        Assert.Equal(0.015 * current, At("supply/+12 V at a") - At("supply/+12 V at b"), 1e-12);
        Assert.Equal(0.02 * current, At("supply/+12 V at b") - At("b/+12 V"), 1e-12);
        Assert.Equal((0.005 + 0.02) * current, At("b/0 V") - At("supply/0 V at a"), 1e-12);
        Assert.Equal(0.02 * (2 * 0.1), 12 - At("supply/+12 V"), 1e-4);
    }

    [Fact]
    public void A_rail_follows_its_temperature_coefficient()
    {
        Voice voice = Make.Voice() with { Supply = new([new("+12 V", 12, 0.02, 100e-6, 1)], 0, 0) };
        (Compiled circuit, double[] x) = Solve(voice, 308.15);
        Assert.Equal(12.012, x[circuit.Net("supply/+12 V")], 1e-12);
    }

    [Fact]
    public void A_buffered_multiple_passes_the_voltage_on_and_its_outputs_do_not_load_each_other()
    {
        Module module = Make.Module("input", Make.Jack("J1", "cv", "input", "cv"), Make.Part("R1", "resistor", 100e3, "cv", "0 V"));
        Voice voice = Make.Voice(Make.Member("a", module), Make.Member("b", module)) with
        {
            Players = [Make.Player("keyboard", 1e3, 5)],
            Multiples = [new("split", true, 2, 0, 0, 100, 1e6, Make.Nowhere)],
            Cords = [Make.Cord("keyboard/out", "split/in"), Make.Cord("split/1", "a/cv"), Make.Cord("split/2", "b/cv")],
        };
        (Compiled circuit, double[] x) = Solve(voice, 298.15);
        // 1 kΩ into 1 MΩ, a follower of gain A/(1 + A), 100 Ω into 100 kΩ (divider; Franco for the follower, from memory).
        double gain = Blank.Default("op amp", "gain");
        double expected = 5 * (1e6 / 1001e3) * (gain / (1 + gain)) * (100e3 / 100.1e3);
        Assert.Equal(expected, x[circuit.Net("b/cv")] - x[circuit.Net("b/0 V")], 50e-6);
        Assert.Equal(x[circuit.Net("a/cv")], x[circuit.Net("b/cv")], 1e-9);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(16)]
    public void A_voice_with_any_number_of_followers_rests(int followers)
    {
        (Compiled circuit, double[] x) = Solve(Make.Linked(3).WithFollowers(followers), 298.15);
        Assert.All(x, value => Assert.True(double.IsFinite(value)));
        Assert.True(circuit.Has($"supply/+12 V to lead"));
    }

    // A ribbon whose one wire carries a current from a lead's source to a follower's return.
    private static Voice Carrying(double amperes, double metres, double gauge, double contacts)
    {
        Part source = Make.Part("I1", "current source", amperes, "0 V", "wire");
        Part from = WithContact(Make.Header("H1", "link", "lead", "wire"), contacts);
        Part to = WithContact(Make.Header("H1", "link", "follower", "0 V"), contacts);
        Part power = Make.Part("X1", "power", 0, "0 V");
        Voice voice = Make.Voice(
            Make.Member("lead", Make.Module("lead", power, source, from)),
            Make.Member("follower", Make.Module("follower", power, to))
        );
        return voice with { Ribbons = [new(Make.Name("lead/link"), [Make.Name("follower/link")], metres, gauge, Make.Nowhere)] };
    }

    private static Part WithContact(Part part, double ohms) =>
        part with { Numbers = part.Numbers.SetItem("contact resistance", ohms) };

    private static double WireDrop(Voice voice, double kelvin)
    {
        (Compiled circuit, double[] x) = Solve(voice, kelvin);
        return x[circuit.Net("lead/wire")] - x[circuit.Net("follower/0 V")];
    }

    private static (Compiled Circuit, double[] X) Solve(Voice voice, double kelvin)
    {
        Compiled circuit = Compiled.Compile(VoiceCircuit.Build(voice));
        circuit.SetTemperature(kelvin);
        (RestState? state, Engine.Circuit.SolveFailure? failure) = new OperatingPoint(circuit).Find();
        Assert.True(state is not null, failure?.ToString());
        return (circuit, state.X);
    }
}
