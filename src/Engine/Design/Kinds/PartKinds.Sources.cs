using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

public static partial class PartKinds
{
    private static ImmutableArray<PartKind> Sources() =>
    [
        new(
            "voltage source",
            "ideal voltage from minus to plus: constant, stepping, sinusoidal or by formula",
            MainValue.QuantityOrFormula,
            Dimension.Voltage,
            [Pin("plus", "positive end"), Pin("minus", "negative end")],
            [.. Waveform(Dimension.Voltage), Tempco],
            [],
            "ideal source"
        )
        {
            ValueCause = Cause.Supply,
        },
        new(
            "current source",
            "ideal current through it from 'from' to 'to': constant, stepping, sinusoidal or by formula",
            MainValue.QuantityOrFormula,
            Dimension.Current,
            FromTo,
            [.. Waveform(Dimension.Current)],
            [],
            "ideal source"
        )
        {
            ValueCause = Cause.Supply,
        },
        new(
            "law",
            "current from 'from' to 'to' by formula, in ampere",
            MainValue.Formula,
            null,
            FromTo,
            [],
            [],
            "plain arithmetic of net voltages, time and temperature"
        ),
        new(
            "charge law",
            "charge on 'from' against 'to' by formula, in coulomb; its rate of change is the current",
            MainValue.Formula,
            null,
            FromTo,
            [],
            [],
            "plain arithmetic of net voltages and temperature"
        ),
    ];

    private static IEnumerable<ParameterSpec> Waveform(Dimension dimension) =>
    [
        P("before", dimension, double.NaN, "value before 'starts'; not given: the main value"),
        P("starts", Dimension.Time, 0, "time at which it begins to move from 'before' to the main value"),
        P("rise", Dimension.Time, 1e-9, "duration of that move, and of the move back"),
        P("lasts", Dimension.Time, double.PositiveInfinity, "time from the start of the rise to the start of the fall"),
        P("every", Dimension.Time, double.PositiveInfinity, "the move repeats with this period"),
        P("amplitude", dimension, 0, "of a sinusoid added to the value"),
        P("frequency", Dimension.Frequency, 0, "of the sinusoid"),
        P("phase", Dimension.Ratio, 0, "of the sinusoid at time zero, in turns"),
        P("small signal", dimension, 0, "amplitude in a small-signal analysis"),
    ];
}
