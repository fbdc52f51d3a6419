using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

public static partial class PartKinds
{
    private static ParameterSpec NominalTemperature =>
        P("nominal temperature", Dimension.Temperature, 300.15, "temperature of the model's values");

    private static ImmutableArray<PartKind> Semiconductors() =>
    [
        new(
            "diode",
            "junction or Schottky diode",
            MainValue.Model,
            null,
            [Pin("anode", "anode"), Pin("cathode", "cathode")],
            [.. Junction()],
            [],
            "Shockley's law with series resistance, junction and diffusion charge, reverse breakdown; "
                + "Massobrio & Antognetti, Semiconductor Device Modeling, 2nd ed. 1993, ch. 1"
        ),
        new(
            "zener",
            "breakdown (zener) diode, by its voltage",
            MainValue.Quantity,
            Dimension.Voltage,
            [Pin("anode", "anode"), Pin("cathode", "cathode")],
            [
                Tolerance,
                Drift,
                Tempco,
                P("test current", Dimension.Current, 5e-3, "current at which the value is given"),
                P("dynamic resistance", Dimension.Resistance, 10, "slope at the test current", 0, Cause.Supply),
                P("saturation current", Dimension.Current, 1e-14, "of the forward junction"),
                P("emission coefficient", Dimension.Ratio, 1, "of the forward junction"),
                P("junction capacitance", Dimension.Capacitance, 0, "at zero bias"),
            ],
            [],
            "exponential breakdown through the point (test current, value) with a series resistance; forward Shockley law"
        ),
        Bipolar("npn", "NPN bipolar transistor"),
        Bipolar("pnp", "PNP bipolar transistor"),
        new(
            "matched pair",
            "two bipolar transistors on one die; transistors name it as their model",
            MainValue.Model,
            null,
            [],
            [
                P("offset", Dimension.Voltage, 0, "base voltage by which the second transistor needs more", 0, Cause.Offsets),
                Limit("offset within", Dimension.Voltage, 0, "limit of the offset, either sign", Cause.Offsets),
                P("gradient", Dimension.TemperatureStep, 0, "how much warmer the second transistor is", 0, Cause.Converter),
                Limit("gradient within", Dimension.TemperatureStep, 0, "limit of the gradient, either sign", Cause.Converter),
                Limit("gain match", Dimension.Ratio, 0, "limit of the relative difference of current gains", Cause.Converter),
            ],
            [],
            "Gummel-Poon twice, second base shifted by the offset, second junction at its own temperature"
        ),
        JunctionFet("n jfet", "N-channel junction field-effect transistor"),
        JunctionFet("p jfet", "P-channel junction field-effect transistor"),
        Mos("n mosfet", "N-channel enhancement MOSFET"),
        Mos("p mosfet", "P-channel enhancement MOSFET"),
    ];

    private static IEnumerable<ParameterSpec> Junction() =>
    [
        P("saturation current", Dimension.Current, 1e-14, "Is"),
        P("emission coefficient", Dimension.Ratio, 1, "n"),
        P("series resistance", Dimension.Resistance, 0, "Rs", 0),
        P("junction capacitance", Dimension.Capacitance, 0, "Cj0, at zero bias"),
        P("junction potential", Dimension.Voltage, 0.75, "Vj"),
        P("grading", Dimension.Ratio, 0.5, "m"),
        P("transit time", Dimension.Time, 0, "TT"),
        P("breakdown voltage", Dimension.Voltage, double.PositiveInfinity, "reverse"),
        P("breakdown current", Dimension.Current, 1e-3, "current at the breakdown voltage"),
        P("energy gap", Dimension.BandGap, 1.11, "Eg in electron-volt"),
        P("saturation exponent", Dimension.Ratio, 3, "XTI"),
        NominalTemperature,
    ];

    private static PartKind Bipolar(string word, string meaning) =>
        new(
            word,
            meaning,
            MainValue.Model,
            null,
            [Pin("collector", "collector"), Pin("base", "base"), Pin("emitter", "emitter")],
            [
                P("saturation current", Dimension.Current, 1e-14, "IS"),
                P("forward gain", Dimension.Ratio, 100, "BF, ideal forward current gain", null, Cause.Converter),
                P("reverse gain", Dimension.Ratio, 1, "BR, ideal reverse current gain"),
                P("forward emission", Dimension.Ratio, 1, "NF"),
                P("reverse emission", Dimension.Ratio, 1, "NR"),
                P("forward Early voltage", Dimension.Voltage, double.PositiveInfinity, "VAF",
                    double.PositiveInfinity, Cause.Converter),
                P("reverse Early voltage", Dimension.Voltage, double.PositiveInfinity, "VAR",
                    double.PositiveInfinity, Cause.Converter),
                P("forward knee current", Dimension.Current, double.PositiveInfinity, "IKF",
                    double.PositiveInfinity, Cause.Converter),
                P("reverse knee current", Dimension.Current, double.PositiveInfinity, "IKR", double.PositiveInfinity),
                P("base-emitter leakage current", Dimension.Current, 0, "ISE", 0, Cause.Leakage),
                P("base-emitter leakage emission", Dimension.Ratio, 1.5, "NE"),
                P("base-collector leakage current", Dimension.Current, 0, "ISC", 0, Cause.Leakage),
                P("base-collector leakage emission", Dimension.Ratio, 2, "NC"),
                P("base resistance", Dimension.Resistance, 0, "RB", 0, Cause.Converter),
                P("emitter resistance", Dimension.Resistance, 0, "RE", 0, Cause.Converter),
                P("collector resistance", Dimension.Resistance, 0, "RC", 0, Cause.Converter),
                P("base-emitter capacitance", Dimension.Capacitance, 0, "CJE, at zero bias"),
                P("base-emitter potential", Dimension.Voltage, 0.75, "VJE"),
                P("base-emitter grading", Dimension.Ratio, 0.33, "MJE"),
                P("base-collector capacitance", Dimension.Capacitance, 0, "CJC, at zero bias"),
                P("base-collector potential", Dimension.Voltage, 0.75, "VJC"),
                P("base-collector grading", Dimension.Ratio, 0.33, "MJC"),
                P("depletion limit", Dimension.Ratio, 0.5, "FC"),
                P("forward transit time", Dimension.Time, 0, "TF"),
                P("reverse transit time", Dimension.Time, 0, "TR"),
                P("gain exponent", Dimension.Ratio, 0, "XTB"),
                P("energy gap", Dimension.BandGap, 1.11, "EG in electron-volt"),
                P("saturation exponent", Dimension.Ratio, 3, "XTI"),
                P("flicker corner", Dimension.Frequency, 0, "of the base current's noise"),
                Limit("gain within", Dimension.Ratio, 0, "limit of the forward gain's relative spread", Cause.Converter),
                Limit("base voltage within", Dimension.Voltage, 0, "limit of the spread of base voltage at one current",
                    Cause.Offsets),
                NominalTemperature,
            ],
            [],
            "Gummel & Poon, BSTJ 49 (1970) 827; Massobrio & Antognetti ch. 2; temperature laws of ch. 2"
        );

    private static PartKind JunctionFet(string word, string meaning) =>
        new(
            word,
            meaning,
            MainValue.Model,
            null,
            [Pin("drain", "drain"), Pin("gate", "gate"), Pin("source", "source")],
            [
                P("threshold", Dimension.Voltage, -2, "VTO, gate-source cut-off (negative for either channel)"),
                P("transconductance", Dimension.CurrentPerSquareVolt, 1e-3, "BETA") with { HarmlessAt = double.PositiveInfinity, Cause = Cause.Reset },
                P("channel modulation", Dimension.PerVolt, 0, "LAMBDA, per volt"),
                P("drain resistance", Dimension.Resistance, 0, "RD"),
                P("source resistance", Dimension.Resistance, 0, "RS"),
                P("gate-source capacitance", Dimension.Capacitance, 0, "CGS, at zero bias") with { HarmlessAt = 0, Cause = Cause.Reset },
                P("gate-drain capacitance", Dimension.Capacitance, 0, "CGD, at zero bias") with { HarmlessAt = 0, Cause = Cause.Reset },
                P("gate potential", Dimension.Voltage, 1, "PB"),
                P("saturation current", Dimension.Current, 1e-14, "IS of the gate junctions"),
                P("leakage", Dimension.Current, 0, "drain-gate leakage at 25 °C, doubling every 10 K", 0, Cause.Leakage),
                P("threshold drift", Dimension.VoltagePerKelvin, -2e-3, "of the cut-off voltage"),
                P("gain exponent", Dimension.Ratio, -0.5, "of the transconductance against absolute temperature"),
                Limit("threshold within", Dimension.Voltage, 0, "limit of the threshold's spread", Cause.Reset),
                NominalTemperature,
            ],
            [],
            "Shichman & Hodges, IEEE JSSC SC-3 (1968) 285; Massobrio & Antognetti ch. 3"
        );

    private static PartKind Mos(string word, string meaning) =>
        new(
            word,
            meaning,
            MainValue.Model,
            null,
            [Pin("drain", "drain"), Pin("gate", "gate"), Pin("source", "source"), Open("body", "bulk; open: joined to the source")],
            [
                P("threshold", Dimension.Voltage, 2, "VTO (positive for enhancement, either channel)"),
                P("transconductance", Dimension.CurrentPerSquareVolt, 1e-3, "K·W/L: the current is half of this times the square") with { HarmlessAt = double.PositiveInfinity, Cause = Cause.Reset },
                P("channel modulation", Dimension.PerVolt, 0, "LAMBDA, per volt"),
                P("body effect", Dimension.RootVoltage, 0, "GAMMA"),
                P("surface potential", Dimension.Voltage, 0.6, "PHI"),
                P("drain resistance", Dimension.Resistance, 0, "RD"),
                P("source resistance", Dimension.Resistance, 0, "RS"),
                P("gate-source capacitance", Dimension.Capacitance, 0, "constant") with { HarmlessAt = 0, Cause = Cause.Reset },
                P("gate-drain capacitance", Dimension.Capacitance, 0, "constant") with { HarmlessAt = 0, Cause = Cause.Reset },
                P("drain-source capacitance", Dimension.Capacitance, 0, "constant"),
                P("saturation current", Dimension.Current, 1e-14, "of the body diode"),
                P("leakage", Dimension.Current, 0, "drain-source leakage at 25 °C, doubling every 10 K", 0, Cause.Leakage),
                P("threshold drift", Dimension.VoltagePerKelvin, -2e-3, "of the threshold"),
                Limit("threshold within", Dimension.Voltage, 0, "limit of the threshold's spread", Cause.Reset),
                NominalTemperature,
            ],
            [],
            "Shichman & Hodges, IEEE JSSC SC-3 (1968) 285; Massobrio & Antognetti ch. 4 (level 1)"
        );
}
