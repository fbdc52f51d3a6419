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
            ["resistor"] = [Make("resistor", "R1", "from: a, to: b", new Dictionary<string, double> { ["value"] = 1e3 })],
            ["capacitor"] =
            [
                Make(
                    "capacitor",
                    "C1",
                    "from: a, to: b",
                    new Dictionary<string, double>
                    {
                        ["value"] = 1e-9,
                        ["tempco"] = -120e-6,
                        ["leakage"] = 1e9,
                        ["series resistance"] = 2,
                        ["starts at"] = 1.5,
                    }
                ),
                Make("capacitor", "C2", "from: b, to: a", new Dictionary<string, double> { ["value"] = 2e-9 }),
            ],
            ["inductor"] =
            [
                Make(
                    "inductor",
                    "L1",
                    "from: a, to: b",
                    new Dictionary<string, double> { ["value"] = 1e-3, ["series resistance"] = 3, ["starts at"] = 1e-3 }
                ),
                Make("inductor", "L2", "from: b, to: c", new Dictionary<string, double> { ["value"] = 1e-3 }),
            ],
            ["diode"] =
            [
                Make(
                    "diode",
                    "D1",
                    "anode: a, cathode: k",
                    new Dictionary<string, double>
                    {
                        ["saturation current"] = 2.5e-9,
                        ["emission coefficient"] = 1.75,
                        ["series resistance"] = 0.6,
                        ["junction capacitance"] = 4e-12,
                        ["transit time"] = 12e-9,
                        ["breakdown voltage"] = 5,
                    }
                ),
                Make("diode", "D2", "anode: k, cathode: a"),
            ],
            ["npn"] = [Make("npn", "Q1", "collector: c, base: b, emitter: e", Transistor)],
            ["pnp"] = [Make("pnp", "Q1", "collector: c, base: b, emitter: e", Transistor), Make("pnp", "Q2", "collector: b, base: b, emitter: c")],
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
                    new Dictionary<string, double> { ["value"] = 5, ["amplitude"] = 1, ["phase"] = 0.2, ["before"] = 2 }
                ),
            ],
            ["current source"] =
            [
                Make("current source", "I1", "from: a, to: b", new Dictionary<string, double> { ["value"] = 1e-3 }),
            ],
        };

    /// <summary>True for unknowns whose row is a sum of currents.</summary>
    public static bool IsNode(Unknown unknown) =>
        unknown.Kind == UnknownKind.Voltage
        && !unknown.Name.EndsWith("unloaded output", StringComparison.Ordinal)
        && !unknown.Name.EndsWith("second pole", StringComparison.Ordinal);

    private static Dictionary<string, double> Transistor =>
        new()
        {
            ["saturation current"] = 1e-14,
            ["forward gain"] = 250,
            ["reverse gain"] = 4,
            ["forward emission"] = 1.01,
            ["reverse emission"] = 1.02,
            ["forward Early voltage"] = 80,
            ["reverse Early voltage"] = 10,
            ["forward knee current"] = 0.05,
            ["reverse knee current"] = 0.02,
            ["base-emitter leakage current"] = 1e-13,
            ["base-collector leakage current"] = 2e-13,
            ["base resistance"] = 40,
            ["emitter resistance"] = 0.4,
            ["collector resistance"] = 3,
            ["base-emitter capacitance"] = 20e-12,
            ["base-collector capacitance"] = 8e-12,
            ["forward transit time"] = 0.4e-9,
            ["reverse transit time"] = 50e-9,
            ["gain exponent"] = 1.5,
            ["offset"] = 1e-4,
        };

    private static Dictionary<string, double> Amplifier =>
        new()
        {
            ["offset"] = 1e-3,
            ["offset drift"] = 1e-5,
            ["bias current"] = 1e-7,
            ["bias doubles every"] = 10,
            ["offset current"] = 1e-8,
            ["input resistance"] = 1e6,
            ["input capacitance"] = 3e-12,
            ["common-mode rejection"] = 1e4,
            ["supply rejection"] = 1e4,
            ["second pole"] = 8e6,
            ["input range high"] = 1,
            ["input range low"] = 3,
        };
}
