using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Expected;
using Consort.Engine.Pitch;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Expected;

public sealed class ExpectedReadingsTests
{
    private const string Bench = """
        module: bench
        panel: {width: 10 HP, height: 3 U}
        circuit:
          X1: {power: bus, rails: [+12 V, 0 V, -12 V]}
          U1: {reference: 5 V, tolerance: 0.2%, in: +12 V, out: +5 V, ground: 0 V}
          R1: {resistor: 20k, tolerance: 1%, from: +5 V, to: sum}
          R2: {resistor: 20k, tolerance: 1%, from: sum, to: -5 V}
          U2A: {op amp: TL072, plus: 0 V, minus: sum, out: -5 V, supply: [+12 V, -12 V]}
          R3: {resistor: 1k, tolerance: 1%, from: +12 V, to: -12 V}
          R4: {resistor: 1k, tolerance: 1%, from: -5 V, to: out}
          R5: {resistor: 100k, tolerance: 1%, from: out, to: 0 V}
          J1: {jack: output, label: minus five, tip: out}

        """;

    [Fact]
    public void Standing_voltages_are_the_designs_and_their_bands_reach_no_further_than_the_parts_limits()
    {
        ExpectedUnit unit = Of(Bench);
        TestPoint plus = unit.Points.Single(point => point.Net == "+5 V"), minus = unit.Points.Single(point => point.Net == "-5 V");
        Assert.Equal(5, plus.Volts, 2e-3);
        Assert.Equal(-5, minus.Volts, 5e-3);
        // Ratio of two resistors of 1 %: at most 0.99/1.01 to 1.01/0.99 (quotient rule); the reference 0.2 % more; an offset
        // of at most 10 mV is doubled by the noise gain of 2 (TI SLOS080D).
        double most = (5 * 1.002 * 1.01 / 0.99) + 0.02, least = (5 * 0.998 * 0.99 / 1.01) - 0.02;
        Assert.InRange(-minus.Low, 5, most);
        Assert.InRange(-minus.High, least, 5);
        // And not much less far: that all of 100 ratios, each the sum of two even draws, lie within half of it has a chance of 1e-12.
        Assert.True(minus.High - minus.Low > 0.1, $"{minus.Low} to {minus.High}");
        Assert.InRange(plus.Low, 5 * 0.998 - 1e-3, 5);
        Assert.Equal(100, unit.Builds);
        Assert.False(minus.Moves);
    }

    [Fact]
    public void Currents_of_the_supply_lead_are_those_of_its_loads()
    {
        // 24 V over 1k is 24 mA, 1 % either way, and the amplifiers' and the reference's own few milliamperes.
        ExpectedUnit unit = Of(Bench);
        ExpectedRail rail = unit.Rails.Single(rail => rail.Rail == "+12 V");
        Assert.InRange(rail.Amps, 24e-3, 24e-3 + 4e-3);
        // The amplifier takes 1.4 mA, 2.5 mA at most (TI SLOS080D), the reference 1 mA: from 40 % less to 80 % more.
        double own = 1.2 * (1.4e-3 + 1e-3);
        Assert.InRange(rail.Most - rail.Least - own, 0.1e-3, 2 * 0.011 * 24e-3);
    }

    [Fact]
    public void A_pairs_outputs_swing_as_its_scope_shows_and_its_references_stand()
    {
        (ImmutableArray<ExpectedUnit> units, var failure) = new ExpectedReadings(Pair(), Stock.Empty).All(TestContext.Current.CancellationToken);
        Assert.Null(failure);
        Assert.Equal([("pair lead", null), ("pair follower", "lead")], units.Select(unit => (unit.Module.Name, unit.Lead)));
        foreach (ExpectedUnit unit in units)
        {
            TestPoint triangle = unit.Points.Single(point => point.Touch.EndsWith("jack 'triangle'", StringComparison.Ordinal));
            // Common practice, no source: outputs of about 10 V peak to peak.
            Assert.InRange(triangle.High - triangle.Low, 9.5, 10.5);
            Assert.True(triangle.Moves);
            Assert.InRange(triangle.Hertz, 32.703 * 0.9, 32.703 * 1.1);
            Assert.Equal(15, unit.Points.Single(point => point.Net == "+15 V").Volts, 0.02);
            Assert.True(unit.Outputs!.Traces.Length >= 3);
            // Every moving place is on one of the two pictures, and its own readings lie within its band.
            TestPoint[] moving = [.. unit.Points.Where(point => point.Moves)];
            Assert.Equal(moving.Length, unit.Outputs.Traces.Length + unit.Inner!.Traces.Length);
            Assert.All(moving, point => Assert.InRange(point.Hertz, point.Bands!.Hertz.Least, point.Bands.Hertz.Most));
            Assert.All(moving, point => Assert.True(point.Bands!.Lowest.Least <= point.Low && point.Low <= point.Bands.Lowest.Most && point.Bands.Highest.Least <= point.High && point.High <= point.Bands.Highest.Most, point.Net));
            Assert.Equal(24, unit.MovingBuilds);
        }
    }

    [Fact]
    public void Bands_of_what_moves_are_those_of_its_parts_and_the_same_on_any_number_of_threads()
    {
        // f = I/(C·V): of the toy's parts only the capacitor's 1 % reaches the pitch, and nothing the limit of 5 V.
        ExpectedUnit one = Toy(threads: 1), two = Toy(threads: 2);
        TestPoint saw = one.Points.Single(point => point.Net == "core");
        // Dead time of some 2 µs in 1 s. That all of 24 even draws lie within half of the limit has a chance of 0.1 % a side.
        Assert.InRange(saw.Bands!.Hertz.Most / saw.Hertz, 1.005, 1 / 0.99 + 1e-4);
        Assert.InRange(saw.Hertz / saw.Bands.Hertz.Least, 1.005, 1.01 + 1e-4);
        Assert.InRange(saw.Bands.Highest.Most - saw.Bands.Highest.Least, 0, 5e-3);
        Assert.Equal(one.Points.Select(point => point.Bands), two.Points.Select(point => point.Bands));
    }

    private static ExpectedUnit Toy(int threads)
    {
        string text = ToyVoice.Oscillator("toy", "1M", more: "R8: {resistor: 1, from: in, to: scaled}\n  J5: {jack: output, label: saw, tip: core}");
        (ImmutableArray<ExpectedUnit> units, var failure) = new ExpectedReadings(Voice(text), Stock.Empty) { Threads = threads }.All(TestContext.Current.CancellationToken);
        Assert.True(failure is null, $"{failure}");
        return Assert.Single(units);
    }

    [Fact]
    public void A_trimmer_turned_as_the_sheet_says_lowers_what_is_too_high()
    {
        Voice voice = Pair();
        (ImmutableArray<TrimTable> sheets, var failure) = TrimTable.All(voice, 1);
        Assert.Null(failure);
        foreach (TrimTable sheet in sheets)
            foreach (TrimLine line in sheet.Lines.Where(line => line.ClockwiseRaises is not null))
            {
                double before = Error(voice, sheet, line, line.Position - 0.02), after = Error(voice, sheet, line, line.Position + 0.02);
                Assert.True((after > before) == line.ClockwiseRaises, $"{sheet.Oscillator.Name} {line.Trimmer}: {before} to {after} cents");
                // The slope is the operating point's, and the core's dead time is not in it: within a tenth.
                double octaves = double.IsNaN(line.LowVolts) ? 1 : line.HighVolts - line.LowVolts;
                Assert.Equal(1, (after - before) / (0.04 * line.Turns) / octaves / line.CentsPerTurn, 0.1);
            }
        TrimLine centre = sheets[0].Lines.Single(line => line.Purpose == TrimPurpose.Centre);
        Assert.Equal(32.703 * 8, centre.HighHertz, 1e-9); // three octaves above 0 V
    }

    private static double Error(Voice voice, TrimTable sheet, TrimLine line, double position)
    {
        Voice moved = voice with { Members = [.. voice.Members.Select(member => member.Name == sheet.Oscillator.Name ? member with { Set = member.Set.SetItem(line.Trimmer, position) } : member)] };
        PlayedVoice played = PlayedVoice.Of(moved);
        Assert.Null(played.Prepare());
        Oscillator oscillator = played.Oscillators.Single(one => one.Name == sheet.Oscillator.Name);
        SoloOscillator solo = new(played, oscillator);
        Assert.Null(solo.Prepare(played.MiddleVolts));
        double Cents(double volts) => oscillator.Cents(volts, solo.Read(volts).Hertz);
        return Cents(line.HighVolts) - (double.IsNaN(line.LowVolts) ? 0 : Cents(line.LowVolts));
    }

    private static Voice Pair() => VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair")).Voice!;

    [Fact]
    public void A_voice_without_an_oscillator_has_nothing_to_trim()
    {
        (ImmutableArray<TrimTable> sheets, var failure) = TrimTable.All(Voice(Bench), 1);
        Assert.Null(failure);
        Assert.Empty(sheets);
    }

    private static ExpectedUnit Of(string text)
    {
        (ImmutableArray<ExpectedUnit> units, var failure) = new ExpectedReadings(Voice(text), Stock.Empty).All(TestContext.Current.CancellationToken);
        Assert.True(failure is null, $"{failure}");
        return Assert.Single(units);
    }

    private static Voice Voice(string text)
    {
        (Module? module, ImmutableArray<InputError> errors) = ModuleReader.Parse(text, "modules/bench.yaml");
        Assert.True(module is not null, string.Join('\n', errors.Select(error => error.Render())));
        Supply supply = new([new("+12 V", 12, 0.02, 0, 1), new("-12 V", -12, 0.02, 0, 1)], 0.01, 0.01);
        return new("bench", "", [new("a", module, 0, ImmutableDictionary<string, double>.Empty, SourceSpan.None)], [], [], [], [], supply, new(3, 5, 1, 20, 288.15, 308.15, 3, null));
    }
}
