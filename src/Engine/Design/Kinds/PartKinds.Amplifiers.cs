using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

public static partial class PartKinds
{
    private static ImmutableArray<PartKind> Amplifiers() =>
    [
        new(
            "op amp",
            "operational amplifier",
            MainValue.Model,
            null,
            [Pin("plus", "non-inverting input"), Pin("minus", "inverting input"), Pin("out", "output"), .. Supply],
            [
                P("gain", Dimension.Ratio, 2e5, "open-loop gain at zero frequency", 1e12, Cause.Ratios),
                P("gain-bandwidth", Dimension.Frequency, 3e6, "gain-bandwidth product") with { HarmlessAt = double.PositiveInfinity, Cause = Cause.Reset },
                P("second pole", Dimension.Frequency, double.PositiveInfinity, "of the open-loop gain; sets the phase margin"),
                P("slew rate", Dimension.Slew, 13e6, "largest rate of the output") with { HarmlessAt = double.PositiveInfinity, Cause = Cause.Reset },
                P("offset", Dimension.Voltage, 0, "input offset of this unit at 25 °C", 0, Cause.Offsets),
                Limit("offset within", Dimension.Voltage, 0, "limit of the offset, either sign", Cause.Offsets),
                Limit("offset drift within", Dimension.VoltagePerKelvin, 0, "limit of the offset's drift, either sign", Cause.Offsets),
                P("offset drift", Dimension.VoltagePerKelvin, 0, "of this unit", 0, Cause.Offsets),
                P("bias current", Dimension.Current, 0, "into each input at 25 °C", 0, Cause.Offsets),
                P("bias doubles every", Dimension.TemperatureStep, double.PositiveInfinity, "10 K for FET inputs; infinite for constant"),
                P("offset current", Dimension.Current, 0, "by which the plus input takes more", 0, Cause.Offsets),
                P("input resistance", Dimension.Resistance, 1e12, "between the inputs", double.PositiveInfinity, Cause.Loading),
                P("input capacitance", Dimension.Capacitance, 0, "between the inputs"),
                P("common-mode rejection", Dimension.Ratio, double.PositiveInfinity, "as a ratio (100 dB = 1e5)",
                    double.PositiveInfinity, Cause.Offsets),
                P("supply rejection", Dimension.Ratio, double.PositiveInfinity, "as a ratio, of the supplies' sum",
                    double.PositiveInfinity, Cause.Supply),
                P("headroom high", Dimension.Voltage, 1.5, "of the output below the positive supply, unloaded"),
                P("headroom low", Dimension.Voltage, 1.5, "of the output above the negative supply, unloaded"),
                P("input range high", Dimension.Voltage, 0, "input range's distance below the positive supply"),
                P("input range low", Dimension.Voltage, 0, "input range's distance above the negative supply"),
                P("output resistance", Dimension.Resistance, 50, "open loop", 0, Cause.Link),
                P("current limit", Dimension.Current, 25e-3, "of the output, either way"),
                P("supply current", Dimension.Current, 1.4e-3, "per amplifier, unloaded"),
                P("voltage noise", Dimension.VoltageNoise, 0, "of the input, white part"),
                P("voltage noise corner", Dimension.Frequency, 0, "below it 1/f"),
                P("current noise", Dimension.CurrentNoise, 0, "of each input"),
            ],
            [],
            "one-pole macromodel with tanh-limited transconductance: Boyle, Cohn, Pederson, Solomon, IEEE JSSC SC-9 (1974) 353 (idea); "
                + "Franco, Design with Operational Amplifiers and Analog ICs, ch. 5-6"
        ),
        new(
            "ota",
            "operational transconductance amplifier",
            MainValue.Model,
            null,
            [
                Pin("plus", "non-inverting input"),
                Pin("minus", "inverting input"),
                Pin("out", "output current"),
                Pin("bias", "bias current input, one or two junctions above the negative supply"),
                .. Supply,
            ],
            [
                P("bias junctions", Dimension.Ratio, 2, "junction drops from the bias pin to the negative supply"),
                P("mirror error", Dimension.Ratio, 0, "relative excess of output over bias current", 0, Cause.Converter),
                P("offset", Dimension.Voltage, 0, "input offset of this unit", 0, Cause.Offsets),
                Limit("offset within", Dimension.Voltage, 0, "limit of the offset, either sign", Cause.Offsets),
                P("input gain", Dimension.Ratio, double.PositiveInfinity, "current gain of the input transistors",
                    double.PositiveInfinity, Cause.Loading),
                P("output conductance", Dimension.PerVolt, 0, "relative to the bias current", 0, Cause.Converter),
                P("headroom high", Dimension.Voltage, 0.8, "of the output below the positive supply"),
                P("headroom low", Dimension.Voltage, 0.8, "of the output above the negative supply"),
                P("output capacitance", Dimension.Capacitance, 0, "to ground"),
                P("voltage noise", Dimension.VoltageNoise, 0, "of the input at 1 mA bias"),
            ],
            [],
            "differential pair: I = Ib·tanh(v/2VT), Gray, Hurst, Lewis, Meyer, Analysis and Design of Analog ICs, ch. 3"
        ),
        new(
            "comparator",
            "comparator with latched state and a short drive ramp",
            MainValue.Model,
            null,
            [
                Pin("plus", "non-inverting input"),
                Pin("minus", "inverting input"),
                Pin("out", "output"),
                Open("emitter", "return of an open-collector output; open: the negative supply"),
                .. Supply,
            ],
            [
                P("delay", Dimension.Time, 200e-9, "from crossing to the start of the output's ramp", 0, Cause.Reset),
                P("ramp", Dimension.Time, 20e-9, "duration of the output's ramp") with { HarmlessAt = 0, Cause = Cause.Reset },
                P("hysteresis", Dimension.Voltage, 0, "between the two crossing points", 0),
                P("offset", Dimension.Voltage, 0, "of this unit", 0, Cause.Offsets),
                Limit("offset within", Dimension.Voltage, 0, "limit of the offset, either sign", Cause.Offsets),
                P("bias current", Dimension.Current, 0, "into each input", 0, Cause.Offsets),
                P("on resistance", Dimension.Resistance, 50, "of the conducting output") with { HarmlessAt = 0, Cause = Cause.Reset },
                P("off leakage", Dimension.Current, 0, "of the open output", 0, Cause.Leakage),
                P("saturation voltage", Dimension.Voltage, 0.1, "of the conducting output at no current"),
                P("supply current", Dimension.Current, 1e-3, "unloaded"),
            ],
            [new("output", "open collector", ["open collector", "push-pull"], "how the output drives")],
            "ideal decision with delay; the output is a conductance that ramps between two states"
        ),
        new(
            "analog switch",
            "switch closed by a control voltage",
            MainValue.Model,
            null,
            [
                Pin("a", "one side"),
                Pin("b", "other side"),
                Pin("control", "control input"),
                Open("reference", "control is measured against this; open: 0 V"),
            ],
            [
                P("threshold", Dimension.Voltage, 2.5, "control voltage at which it turns"),
                P("on resistance", Dimension.Resistance, 100, "closed", 0, Cause.Reset),
                P("off resistance", Dimension.Resistance, 1e11, "open", double.PositiveInfinity, Cause.Leakage),
                P("turn time", Dimension.Time, 50e-9, "of the resistance's ramp") with { HarmlessAt = 0, Cause = Cause.Reset },
                P("injected charge", Dimension.Charge, 0, "pushed into each side when it opens", 0, Cause.Reset),
            ],
            [],
            "resistance that ramps geometrically between two values"
        ),
        new(
            "reference",
            "voltage reference, by its voltage",
            MainValue.Quantity,
            Dimension.Voltage,
            [Pin("in", "supply"), Pin("out", "output"), Pin("ground", "return")],
            [
                Tolerance,
                Drift,
                Tempco,
                P("output resistance", Dimension.Resistance, 0.1, "load regulation", 0, Cause.Supply),
                P("line rejection", Dimension.Ratio, double.PositiveInfinity, "supply change over output change",
                    double.PositiveInfinity, Cause.Supply),
                P("headroom", Dimension.Voltage, 2, "least voltage from input to output"),
                P("current limit", Dimension.Current, 20e-3, "of the output"),
                P("supply current", Dimension.Current, 1e-3, "unloaded"),
                P("voltage noise", Dimension.VoltageNoise, 0, "of the output"),
            ],
            [],
            "source behind a resistance, with headroom"
        )
        {
            ValueCause = Cause.Supply,
        },
        new(
            "regulator",
            "three-terminal regulator, by its voltage (negative for a negative rail)",
            MainValue.Quantity,
            Dimension.Voltage,
            [Pin("in", "supply"), Pin("out", "output"), Pin("ground", "return")],
            [
                Tolerance,
                Drift,
                Tempco,
                P("output resistance", Dimension.Resistance, 0.02, "load regulation", 0, Cause.Supply),
                P("line rejection", Dimension.Ratio, 3000, "supply change over output change (70 dB)",
                    double.PositiveInfinity, Cause.Supply),
                P("headroom", Dimension.Voltage, 2, "least voltage from input to output"),
                P("current limit", Dimension.Current, 0.1, "of the output"),
                P("supply current", Dimension.Current, 4e-3, "to ground, unloaded"),
                P("voltage noise", Dimension.VoltageNoise, 0, "of the output"),
            ],
            [],
            "source behind a resistance, with headroom"
        )
        {
            ValueCause = Cause.Supply,
        },
    ];
}
