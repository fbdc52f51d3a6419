using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>The parts library against its data sheets, through the models. Where a test says nothing else, the sheet's
/// figure is from memory, as the library's own files say.</summary>
public sealed class LibraryTests
{
    private static double Number(string kind, string model, string word) =>
        PartsLibrary.BuiltIn.Find(PartKinds.Find(kind)!, model)!.Numbers[word];

    [Fact]
    public void Every_entry_names_its_sheet()
    {
        foreach (LibraryEntry entry in PartsLibrary.BuiltIn.All)
            Assert.False(string.IsNullOrWhiteSpace(entry.Sheet), entry.Name);
    }

    [Fact]
    public void Every_entry_and_every_ideal_part_solves_at_rest()
    {
        foreach (LibraryEntry entry in PartsLibrary.BuiltIn.All)
            Solve(entry.Kind.Word, entry.Name, entry.Polarity);
        foreach (PartKind kind in PartKinds.All.Where(kind => kind.Main == MainValue.Model))
            Solve(kind.Word, PartsLibrary.Ideal, "npn");

        static void Solve(string kind, string model, string? polarity)
        {
            string wired = kind switch
            {
                "op amp" => "plus: a, minus: o, out: o, supply: [p, n]",
                "ota" => "plus: a, minus: 0 V, out: o, bias: b, supply: [p, n]",
                "comparator" => "plus: b, minus: a, out: o, supply: [p, n]",
                "analog switch" => "a: a, b: o, control: p",
                "diode" => "anode: a, cathode: o",
                "npn" or "pnp" => "collector: a, base: b, emitter: o",
                "matched pair" => "",
                _ => "drain: a, gate: b, source: o",
            };
            string part =
                kind == "matched pair"
                    ? $$"""
                        X1: {matched pair: {{model}}}
                        Q1: {{{polarity}}: X1, collector: a, base: b, emitter: o}
                        Q2: {{{polarity}}: X1, collector: a, base: a, emitter: o}
                        """
                    : $$"""X1: {{{kind}}: {{model}}, {{wired}}}""";
            Rig rig = new(
                $$"""
                {{part}}
                V1: {voltage source: 12 V, plus: p, minus: 0 V}
                V2: {voltage source: -12 V, plus: n, minus: 0 V}
                R1: {resistor: 10k, from: p, to: a}
                R2: {resistor: 100k, from: a, to: b}
                R3: {resistor: 10k, from: o, to: 0 V}
                R4: {resistor: 1M, from: b, to: 0 V}
                R5: {resistor: 1M, from: n, to: a}
                """
            );
            Assert.All(rig.State.X, value => Assert.True(double.IsFinite(value), $"{kind} {model}"));
        }
    }

    [Fact]
    public void TL072_has_the_figures_of_its_sheets()
    {
        // TI SLOS080D 1996, ST data sheet 2007, Motorola: confirmed figures.
        Assert.InRange(Number("op amp", "TL072", "offset within"), 3e-3, 10e-3);
        Assert.InRange(Number("op amp", "TL072", "bias current"), 20e-12, 200e-12);
        Assert.InRange(Number("op amp", "TL072", "slew rate"), 8e6, 16e6);
        Assert.InRange(Number("op amp", "TL072", "gain-bandwidth"), 2.5e6, 4e6);
        Assert.InRange(Number("op amp", "TL072", "voltage noise"), 15e-9, 18e-9);
        Assert.InRange(Number("op amp", "TL072", "supply current"), 1.4e-3, 2.5e-3);
        Assert.Equal(10e-6, Number("op amp", "TL072", "offset drift within"));
    }

    [Fact]
    public void OPA2134_has_the_figures_of_its_sheet()
    {
        // TI SBOS058: noise, bias current and slew rate confirmed; offset and gain-bandwidth as tabulated.
        Assert.Equal(8e-9, Number("op amp", "OPA2134", "voltage noise"));
        Assert.Equal(3e-15, Number("op amp", "OPA2134", "current noise"));
        Assert.Equal(5e-12, Number("op amp", "OPA2134", "bias current"));
        Assert.InRange(Number("op amp", "OPA2134", "slew rate"), 15e6, 20e6);
        Assert.InRange(Number("op amp", "OPA2134", "offset within"), 0.5e-3, 2e-3);
        Assert.Equal(8e6, Number("op amp", "OPA2134", "gain-bandwidth"));
    }

    [Theory]
    // Philips July 1993, Siliconix 70232: rDS(on) at VGS = 0 at most, VGS(off) from, to (confirmed).
    [InlineData("n jfet", "J111", 30, 3, 10)]
    [InlineData("n jfet", "J112", 50, 1, 5)]
    [InlineData("n jfet", "J113", 100, 0.5, 3)]
    // Philips July 1993, from memory.
    [InlineData("p jfet", "J175", 125, 3, 6)]
    public void Junction_fets_turn_on_and_off_as_their_sheets_say(
        string kind,
        string model,
        double most,
        double from,
        double to
    )
    {
        int sign = kind == "n jfet" ? 1 : -1;
        Rig on = Fet(kind, model, sign * 0.1, 0);
        double resistance = on["d"] / on.Current("X1", "drain");
        Assert.InRange(resistance, 0.2 * most, most);
        double threshold = -Number(kind, model, "threshold");
        double within = Number(kind, model, "threshold within");
        Assert.Equal(from, threshold - within, 1e-9);
        Assert.Equal(to, threshold + within, 1e-9);
        // Off: nothing but leakage of a few picoampere, below the sheet's 1 nA.
        Rig off = Fet(kind, model, sign * 5, -sign * (threshold + 1));
        Assert.InRange(sign * off.Current("X1", "drain"), 1e-12, 1e-9);
    }

    [Theory]
    // MAT02: rBE about 0.3 Ω, Vos 50 µV; MAT04 grade E: rBE 0.4 to 0.6 Ω, Vos 50 to 200 µV; LM394: matched to 50 µV;
    // gains matched to 0.5 to 2 % (confirmed).
    [InlineData("MAT02", 0.3, 0.6, 50e-6)]
    [InlineData("MAT04", 0.4, 0.6, 200e-6)]
    [InlineData("LM394", 0.3, 0.6, 50e-6)]
    [InlineData("matched NPN dual", 0.3, 0.6, 50e-6)]
    public void Matched_pairs_match_as_their_sheets_say(string model, double least, double most, double offset)
    {
        Assert.InRange(Number("matched pair", model, "emitter resistance"), least, most);
        Assert.Equal(offset, Number("matched pair", model, "offset within"));
        Assert.InRange(Number("matched pair", model, "gain match"), 0.005, 0.02);
    }

    [Theory]
    // Base voltage at a collector current, and gain there: the points that each entry says it was chosen for.
    [InlineData("npn", "2N3904", 1e-3, 0.648, 0.652, 180, 200)]
    [InlineData("npn", "2N3904", 10e-3, 0.65, 0.85, 195, 205)]
    [InlineData("npn", "2N3904", 0.1e-3, 0.55, 0.65, 140, 160)]
    [InlineData("pnp", "2N3906", 1e-3, 0.648, 0.652, 180, 200)]
    [InlineData("pnp", "2N3906", 10e-3, 0.65, 0.85, 195, 205)]
    [InlineData("npn", "BC547B", 2e-3, 0.655, 0.665, 280, 300)]
    [InlineData("npn", "BC547B", 10e-6, 0.45, 0.6, 140, 160)]
    [InlineData("pnp", "BC557B", 2e-3, 0.645, 0.655, 280, 300)]
    [InlineData("pnp", "BC557B", 10e-6, 0.45, 0.6, 140, 160)]
    [InlineData("npn", "BC847B", 2e-3, 0.655, 0.665, 280, 300)]
    [InlineData("matched pair", "MAT02", 1e-3, 0.54, 0.55, 590, 620)]
    [InlineData("matched pair", "MAT02", 10e-6, 0.4, 0.45, 550, 580)]
    [InlineData("matched pair", "MAT02", 1e-6, 0.35, 0.4, 470, 500)]
    [InlineData("matched pair", "MAT04", 1e-3, 0.595, 0.605, 770, 830)]
    [InlineData("matched pair", "MAT04", 100e-6, 0.5, 0.55, 780, 820)]
    [InlineData("matched pair", "MAT04", 1e-6, 0.4, 0.45, 680, 720)]
    [InlineData("matched pair", "LM394", 1e-3, 0.575, 0.585, 680, 720)]
    [InlineData("matched pair", "LM394", 1e-6, 0.38, 0.42, 430, 470)]
    [InlineData("matched pair", "matched PNP dual", 1e-3, 0.555, 0.565, 155, 175)]
    [InlineData("matched pair", "matched PNP dual", 10e-6, 0.42, 0.46, 110, 130)]
    public void Transistors_meet_the_points_that_they_were_chosen_for(
        string kind,
        string model,
        double current,
        double leastVoltage,
        double mostVoltage,
        double leastGain,
        double mostGain
    )
    {
        bool isPair = kind == "matched pair";
        string transistor = isPair ? PartsLibrary.BuiltIn.Find(PartKinds.Find(kind)!, model)!.Polarity! : kind;
        int sign = transistor == "npn" ? 1 : -1;
        string pair = isPair
            ? $"A: {{matched pair: {model}}}\nQ2: {{{transistor}: A, collector: 0 V, base: 0 V, emitter: 0 V}}\n"
            : "";
        Rig rig = new(
            $$"""
            {{pair}}Q1: {{{transistor}}: {{(isPair ? "A" : model)}}, collector: c, base: b, emitter: 0 V}
            VB: {voltage source: {{sign * 0.6}} V, plus: b, minus: 0 V}
            VC: {voltage source: {{sign * 5}} V, plus: c, minus: 0 V}
            """
        );
        for (int i = 0; i < 30; i++)
        {
            double share = sign * rig.Current("Q1", "collector") / current;
            rig.With("VB", "value", rig["b"] - sign * Constants.ThermalVoltage(298.15) * Math.Log(share));
        }
        Assert.Equal(sign * current, rig.Current("Q1", "collector"), 1e-6 * current);
        Assert.InRange(sign * rig["b"], leastVoltage, mostVoltage);
        Assert.InRange(current / (sign * rig.Current("Q1", "base")), leastGain, mostGain);
    }

    [Theory]
    // Forward voltage at a current: at least (half of typical, so that a slip of a decimal shows), at most (the sheet).
    [InlineData("1N4148", 1e-3, 0.55, 0.65)]
    [InlineData("1N4148", 10e-3, 0.68, 1.0)]
    [InlineData("1N5817", 0.1, 0.28, 0.32)]
    [InlineData("1N5817", 1, 0.40, 0.45)]
    [InlineData("BAT54", 0.1e-3, 0.15, 0.24)]
    [InlineData("BAT54", 1e-3, 0.22, 0.32)]
    [InlineData("BAT54", 10e-3, 0.30, 0.40)]
    [InlineData("BAT54", 30e-3, 0.38, 0.50)]
    public void Diodes_meet_the_points_that_they_were_chosen_for(
        string model,
        double current,
        double least,
        double most
    )
    {
        Rig rig = new(
            $$"""
            D1: {diode: {{model}}, anode: a, cathode: 0 V}
            I1: {current source: {{current:R}} A, from: 0 V, to: a}
            """
        );
        Assert.InRange(rig["a"], least, most);
    }

    [Theory]
    // On resistance at 10 V of gate drive: below the sheet's maximum, within a factor of two of its typical value; and
    // the threshold at 1 mA.
    [InlineData("n mosfet", "2N7000", 0.5, 1.2, 5, 2.1)]
    [InlineData("n mosfet", "BS170", 0.2, 1.2, 5, 2.0)]
    [InlineData("p mosfet", "BS250", 0.2, 9, 14, 2.4)]
    public void Mosfets_turn_on_as_their_sheets_say(
        string kind,
        string model,
        double current,
        double typical,
        double most,
        double threshold
    )
    {
        int sign = kind == "n mosfet" ? 1 : -1;
        Rig on = new(
            $$"""
            X1: {{{kind}}: {{model}}, drain: d, gate: g, source: 0 V}
            VG: {voltage source: {{sign * 10}} V, plus: g, minus: 0 V}
            I1: {current source: {{sign * current:R}} A, from: 0 V, to: d}
            """
        );
        Assert.InRange(on["d"] / (sign * current), typical / 2, Math.Min(most, 2 * typical));
        Rig diode = new(
            $$"""
            X1: {{{kind}}: {{model}}, drain: d, gate: d, source: 0 V}
            I1: {current source: {{sign}} mA, from: 0 V, to: d}
            """
        );
        Assert.Equal(threshold, sign * diode["d"], 0.05);
    }

    [Theory]
    // Saturation voltage at a sink current: typical figures of the sheets.
    [InlineData("LM311", 8e-3, 0.23)]
    [InlineData("LM311", 50e-3, 0.75)]
    [InlineData("LM393", 4e-3, 0.15)]
    [InlineData("LM339", 4e-3, 0.15)]
    public void Open_collectors_saturate_as_their_sheets_say(string model, double current, double voltage)
    {
        Rig rig = new(
            $$"""
            X1: {comparator: {{model}}, plus: 0 V, minus: m, out: o, supply: [p, 0 V]}
            V1: {voltage source: 15 V, plus: p, minus: 0 V}
            V2: {voltage source: 1 V, plus: m, minus: 0 V}
            I1: {current source: {{current:R}} A, from: p, to: o}
            """
        );
        Assert.Equal(voltage, rig["o"], 0.02);
    }

    private static Rig Fet(string kind, string model, double drain, double gate) =>
        new(
            $$"""
            X1: {{{kind}}: {{model}}, drain: d, gate: g, source: 0 V}
            VD: {voltage source: {{drain:R}} V, plus: d, minus: 0 V}
            VG: {voltage source: {{gate:R}} V, plus: g, minus: 0 V}
            """
        );
}
