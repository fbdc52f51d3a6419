using Consort.Engine.Circuit;
using Consort.Engine.Design;
using static Consort.Tests.Circuit.Parts.PartBuilder;

namespace Consort.Tests.Circuit.Parts;

/// <summary>At least one part of every kind, with every term of its model at work.</summary>
internal static class SampleParts
{
    public static Dictionary<string, Part[]> All { get; } =
        new()
        {
            ["resistor"] = [Make("resistor", "R1", "from: a, to: b", N(("value", 1e3)))],
            ["capacitor"] =
            [
                Make(
                    "capacitor",
                    "C1",
                    "from: a, to: b",
                    N(
                        ("value", 1e-9),
                        ("tempco", -120e-6),
                        ("leakage", 1e9),
                        ("series resistance", 2),
                        ("starts at", 1.5)
                    )
                ),
                Make("capacitor", "C2", "from: b, to: a", N(("value", 2e-9))),
            ],
            ["inductor"] =
            [
                Make(
                    "inductor",
                    "L1",
                    "from: a, to: b",
                    N(("value", 1e-3), ("series resistance", 3), ("starts at", 1e-3))
                ),
                Make("inductor", "L2", "from: b, to: c", N(("value", 1e-3))),
            ],
            ["diode"] =
            [
                Make(
                    "diode",
                    "D1",
                    "anode: a, cathode: k",
                    N(
                        ("saturation current", 2.5e-9),
                        ("emission coefficient", 1.75),
                        ("series resistance", 0.6),
                        ("junction capacitance", 4e-12),
                        ("transit time", 12e-9),
                        ("breakdown voltage", 5)
                    )
                ),
                Make("diode", "D2", "anode: k, cathode: a"),
            ],
            ["npn"] = [Make("npn", "Q1", "collector: c, base: b, emitter: e", Transistor)],
            ["pnp"] =
            [
                Make("pnp", "Q1", "collector: c, base: b, emitter: e", Transistor),
                Make("pnp", "Q2", "collector: b, base: b, emitter: c"),
            ],
            ["op amp"] =
            [
                Make("op amp", "U1", "plus: p, minus: m, out: o, supply +: vp, supply -: vn", Amplifier),
                Make("op amp", "U2", "plus: o, minus: p, out: p, supply +: vp, supply -: vn"),
            ],
            ["voltage source"] =
            [
                Make(
                    "voltage source",
                    "V1",
                    "plus: a, minus: b",
                    N(("value", 5), ("amplitude", 1), ("phase", 0.2), ("before", 2))
                ),
            ],
            ["current source"] = [Make("current source", "I1", "from: a, to: b", N(("value", 1e-3)))],
            ["potentiometer"] =
            [
                Make(
                    "potentiometer",
                    "P1",
                    "ccw: a, wiper: w, cw: b",
                    N(("value", 1e5), ("end resistance", 5), ("wiper resistance", 50))
                ),
                Make(
                    "trimmer",
                    "P2",
                    "wiper: w, cw: b",
                    N(("value", 1e4)),
                    new Dictionary<string, string> { ["taper"] = "audio" }
                ),
            ],
            ["selector"] = [Make("selector", "SW1", "pole: p, way 1: a, way 2: b, way 3: c", N(("value", 2)))],
            ["zener"] =
            [
                Make(
                    "zener",
                    "Z1",
                    "anode: a, cathode: k",
                    N(("value", 5.1), ("tempco", 3e-4), ("junction capacitance", 1e-10))
                ),
                Make("zener", "Z2", "anode: k, cathode: a", N(("value", 3), ("dynamic resistance", 3))),
            ],
            ["n jfet"] = [Make("n jfet", "J1", "drain: d, gate: g, source: s", Junction)],
            ["p jfet"] = [Make("p jfet", "J1", "drain: d, gate: g, source: s", Junction)],
            ["n mosfet"] = [Make("n mosfet", "M1", "drain: d, gate: g, source: s, body: b", Mos)],
            ["p mosfet"] = [Make("p mosfet", "M1", "drain: d, gate: g, source: s", Mos)],
            ["ota"] =
            [
                Make(
                    "ota",
                    "U1",
                    "plus: p, minus: m, out: o, bias: b, supply +: vp, supply -: vn",
                    N(
                        ("mirror error", 0.02),
                        ("offset", 1e-3),
                        ("input gain", 200),
                        ("output conductance", 0.01),
                        ("output capacitance", 5e-12)
                    )
                ),
            ],
            ["comparator"] =
            [
                Make(
                    "comparator",
                    "U1",
                    "plus: p, minus: m, out: o, emitter: e, supply +: vp, supply -: vn",
                    N(("delay", 0), ("ramp", 1e-7), ("bias current", 1e-7), ("off leakage", 1e-7))
                ),
                Make(
                    "comparator",
                    "U2",
                    "plus: p, minus: m, out: o, supply +: vp, supply -: vn",
                    N(("delay", 0), ("ramp", 1e-7)),
                    new Dictionary<string, string> { ["output"] = "push-pull" }
                ),
            ],
            ["analog switch"] =
            [
                Make(
                    "analog switch",
                    "S1",
                    "a: a, b: b, control: c, reference: r",
                    N(("turn time", 1e-7), ("injected charge", 1e-11))
                ),
            ],
            ["reference"] =
            [
                Make("reference", "U1", "in: i, out: o, ground: g", N(("value", 5), ("line rejection", 1e3))),
            ],
            ["regulator"] = [Make("regulator", "U1", "in: i, out: o, ground: g", N(("value", -5)))],
            ["jack"] = [Make("jack", "J1", "tip: a, normal: b")],
            ["cord"] = [Make("cord", "W1", "from: a, to: b", N(("value", 0.6)))],
            ["ribbon"] =
            [
                Make("ribbon", "W1", "wire 1 from: a, wire 1 to: b, wire 2 from: c, wire 2 to: d", N(("value", 0.12))),
            ],
            ["law"] =
            [
                Make(
                    "law",
                    "G1",
                    "from: a, to: b",
                    null,
                    Formula("1e-3 * tanh([c] / (2 * k * T / q)) + [a]^2 * 1e-4 - min([a], [b]) / (3 + [c]^2)")
                ),
                Make(
                    "charge law",
                    "G2",
                    "from: a, to: b",
                    null,
                    Formula("1e-9 * ([a] - [b]) * exp(-abs([c])) + 1e-10 * sin([b])")
                ),
            ],
            ["formula sources"] =
            [
                Make(
                    "voltage source",
                    "V1",
                    "plus: a, minus: b",
                    N(("value", 0)),
                    Formula("2 * [c] + sqrt([a]^2 + 1)")
                ),
                Make(
                    "current source",
                    "I1",
                    "from: a, to: c",
                    N(("value", 0)),
                    Formula("1e-3 * [b] * [c] + max([a], 0) * 1e-4")
                ),
            ],
        };

    /// <summary>True for unknowns whose row is a sum of currents.</summary>
    public static bool IsNode(Unknown unknown) =>
        unknown.Kind == UnknownKind.Voltage
        && !unknown.Name.EndsWith("unloaded output", StringComparison.Ordinal)
        && !unknown.Name.EndsWith("second pole", StringComparison.Ordinal);

    private static Dictionary<string, double> Transistor =>
        N(
            ("saturation current", 1e-14),
            ("forward gain", 250),
            ("reverse gain", 4),
            ("forward emission", 1.01),
            ("reverse emission", 1.02),
            ("forward Early voltage", 80),
            ("reverse Early voltage", 10),
            ("forward knee current", 0.05),
            ("reverse knee current", 0.02),
            ("base-emitter leakage current", 1e-13),
            ("base-collector leakage current", 2e-13),
            ("base resistance", 40),
            ("emitter resistance", 0.4),
            ("collector resistance", 3),
            ("base-emitter capacitance", 20e-12),
            ("base-collector capacitance", 8e-12),
            ("forward transit time", 0.4e-9),
            ("reverse transit time", 50e-9),
            ("gain exponent", 1.5),
            ("offset", 1e-4)
        );

    private static Dictionary<string, double> N(params (string Word, double Value)[] numbers) =>
        numbers.ToDictionary(number => number.Word, number => number.Value);

    private static Dictionary<string, string> Formula(string text) => new() { ["formula"] = text };

    private static Dictionary<string, double> Junction =>
        N(
            ("channel modulation", 0.02),
            ("drain resistance", 8),
            ("source resistance", 5),
            ("gate-source capacitance", 5e-12),
            ("gate-drain capacitance", 4e-12),
            ("leakage", 1e-11)
        );

    private static Dictionary<string, double> Mos =>
        N(
            ("transconductance", 0.1),
            ("channel modulation", 0.02),
            ("body effect", 0.5),
            ("drain resistance", 1),
            ("source resistance", 0.5),
            ("gate-source capacitance", 5e-11),
            ("gate-drain capacitance", 4e-12),
            ("drain-source capacitance", 1e-11),
            ("leakage", 1e-9)
        );

    private static Dictionary<string, double> Amplifier =>
        N(
            ("offset", 1e-3),
            ("offset drift", 1e-5),
            ("bias current", 1e-7),
            ("bias doubles every", 10),
            ("offset current", 1e-8),
            ("input resistance", 1e6),
            ("input capacitance", 3e-12),
            ("common-mode rejection", 1e4),
            ("supply rejection", 1e4),
            ("second pole", 8e6),
            ("input range high", 1),
            ("input range low", 3)
        );
}
