using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

public static partial class PartKinds
{
    private static ImmutableArray<PartKind> Joinery() =>
    [
        new(
            "jack",
            "panel jack; the voice's cords name it by its label",
            MainValue.Word,
            null,
            [Pin("tip", "signal"), Open("normal", "net that feeds the tip while nothing is plugged in"), Open("sleeve", "return; open: 0 V")],
            [P("contact resistance", Dimension.Resistance, 0.02, "of tip and of normal contact", 0, Cause.Loading)],
            [
                new("value", null, ["input", "output"], "direction"),
                new("label", null, [], "its name on the panel and in cords"),
            ],
            "contact resistances"
        ),
        new(
            "header",
            "ribbon header of a link, pin by pin",
            MainValue.Word,
            null,
            [],
            [P("contact resistance", Dimension.Resistance, 0.02, "of each pin", 0, Cause.Ground)],
            [
                new("value", null, [], "the header's name in the voice's ribbons"),
                new("role", "through", ["lead", "follower", "through"], "lead drives the link, follower is fed by it"),
            ],
            "contact resistances"
        )
        {
            FreeList = "pins",
        },
        new(
            "power",
            "supply connector: joins the module's supply nets to the voice's rails of the same name",
            MainValue.Word,
            null,
            [],
            [P("contact resistance", Dimension.Resistance, 0.02, "of each rail's contacts together", 0, Cause.Supply)],
            [new("value", null, [], "the connector's name")],
            "contact resistances"
        )
        {
            FreeList = "rails",
        },
        new(
            "cord",
            "patch cord between two nets, by its length",
            MainValue.Quantity,
            Dimension.Length,
            FromTo,
            [
                P("resistance", Dimension.ResistancePerLength, 0.2, "of the conductor", 0, Cause.Loading),
                P("capacitance", Dimension.CapacitancePerLength, 100e-12, "to 0 V", 0),
                P("contact resistance", Dimension.Resistance, 0.04, "of both plugs together", 0, Cause.Loading),
            ],
            [],
            "series resistance, half of the capacitance at each end"
        )
        {
            ValueCause = Cause.Loading,
        },
        new(
            "ribbon",
            "flat cable between two lists of nets, wire by wire, by its length",
            MainValue.Quantity,
            Dimension.Length,
            [],
            [
                P("gauge", Dimension.Ratio, 28, "American wire gauge; resistance by ASTM B258 and IEC 60028"),
                P("capacitance", Dimension.CapacitancePerLength, 50e-12, "of each wire to 0 V"),
                P("coupling", Dimension.CapacitancePerLength, 30e-12, "between neighbouring wires", 0),
                P("contact resistance", Dimension.Resistance, 0.04, "of both contacts of a wire together", 0, Cause.Ground),
            ],
            [],
            "series resistance per wire, half of the capacitances at each end"
        )
        {
            FreeList = "wires",
            ValueCause = Cause.Ground,
        },
    ];
}
