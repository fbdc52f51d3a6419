using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

public static partial class PartKinds
{
    private static ImmutableArray<PartKind> Passive() =>
    [
        new(
            "resistor",
            "fixed resistor",
            MainValue.Quantity,
            Dimension.Resistance,
            FromTo,
            [Tolerance, Drift, Tempco, .. InArray],
            [ArrayName],
            "Ohm's law; thermal noise 4kT/R (Johnson, Phys. Rev. 32 (1928) 97; Nyquist, ibid. 110)"
        ),
        new(
            "capacitor",
            "fixed capacitor",
            MainValue.Quantity,
            Dimension.Capacitance,
            FromTo,
            [
                Tolerance,
                Drift,
                Tempco,
                P("leakage", Dimension.Resistance, double.PositiveInfinity, "insulation resistance across it",
                    double.PositiveInfinity, Cause.Leakage),
                P("series resistance", Dimension.Resistance, 0, "equivalent series resistance", 0, Cause.Reset),
                P("starts at", Dimension.Voltage, double.NaN,
                    "held at this voltage (from minus to) in the operating point, let go at time zero; not given: open"),
                .. InArray,
            ],
            [ArrayName],
            "q = C·v with a parallel and a series resistance"
        ),
        new(
            "inductor",
            "inductor",
            MainValue.Quantity,
            Dimension.Inductance,
            FromTo,
            [
                Tolerance,
                Drift,
                Tempco,
                P("series resistance", Dimension.Resistance, 0, "winding resistance", 0),
                P("starts at", Dimension.Current, double.NaN,
                    "held at this current (from to to) in the operating point; not given: a short circuit"),
            ],
            [],
            "flux = L·i with a series resistance"
        ),
        Variable("potentiometer", "control moved in playing", 0.75),
        Variable("trimmer", "adjustment made once at the bench", 20),
        new(
            "selector",
            "rotary or slide switch with one pole: joins its pole to one of its ways",
            MainValue.Quantity,
            Dimension.Ratio,
            [Pin("pole", "the moving contact")],
            [
                P("contact resistance", Dimension.Resistance, 0.02, "of the closed way", 0, Cause.Loading),
                P("open resistance", Dimension.Resistance, 1e12, "of each open way", double.PositiveInfinity),
            ],
            [],
            "resistances; the value is the closed way, from 1"
        )
        {
            FreeList = "ways",
            ValueCause = Cause.None,
        },
    ];

    private static PartKind Variable(string word, string meaning, double turns) =>
        new(
            word,
            meaning,
            MainValue.Quantity,
            Dimension.Resistance,
            [
                Open("ccw", "end that the wiper meets when turned fully counter-clockwise"),
                Pin("wiper", "wiper"),
                Open("cw", "end that the wiper meets when turned fully clockwise"),
            ],
            [
                Tolerance,
                Drift,
                Tempco,
                P("position", Dimension.Ratio, 0.5, "share of the full turn, 0 fully counter-clockwise"),
                P("turns", Dimension.Ratio, turns, "full travel in turns"),
                P("end resistance", Dimension.Resistance, 0, "left at either end", 0),
                P("wiper resistance", Dimension.Resistance, 0, "contact resistance of the wiper", 0),
                P("resolution", Dimension.Ratio, 0.001, "smallest step that a hand can set, share of the full turn"),
            ],
            [
                new("taper", "linear", ["linear", "audio", "reverse audio"],
                    "resistance against turn; audio is (81^x - 1)/80: 10 % at half turn (laws of IEC 60393-1, midpoint from makers' curves)"),
            ],
            "two resistances that share the track by taper and position"
        );
}
