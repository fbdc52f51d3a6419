using System.Text.Json.Nodes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design.Schema;

internal static partial class FileShape
{
    private static JsonObject Panel() =>
        Shape.Map(
            "size of the panel, the depth behind it, and what stands where on it",
            new("width", Q(Dimension.PanelWidth, "width"), true),
            new("height", Q(Dimension.PanelHeight, "height"), true),
            new("depth", Q(Dimension.Length, "depth behind the panel")),
            new("clearance", Q(Dimension.Length, "by which the sheet is narrower; not given: 0.3 mm for a width in HP, else 0")),
            new("grid", Q(Dimension.Length, "places are multiples of it; not given: any place")),
            new("text", Q(Dimension.Length, "height of legends; not given: 2.5 mm")),
            new("title", Shape.Text("printed at the top; not given: the module's name")),
            new("rails", Q(Dimension.Length, "strip at the upper and lower edge that stays free behind the panel; not given: 10 mm for a height in U, else 0")),
            new("mounting", Mounting()),
            new("board", Board()),
            new("fittings", Shape.MapOf(Fitting(), "forms of panel parts besides the usual ones, by name")),
            new("places", Shape.MapOf(Place(), "designator of a jack, potentiometer, selector or trimmer to its place"))
        );

    private static JsonObject Mounting() =>
        Shape.Map(
            "holes or slots by which the panel is fastened",
            new("hole", Q(Dimension.Length, "width of the slot; not given: 3.2 mm")),
            new("travel", Q(Dimension.Length, "of the screw along the slot; not given: 2 mm on rails, else 0")),
            new("from side", Q(Dimension.Length, "not given: 7.5 mm on rails, else 4 mm")),
            new("from edge", Q(Dimension.Length, "from the upper and lower edge; not given: 3 mm on rails, else 4 mm"))
        );

    private static JsonObject Board() =>
        Shape.Map(
            "a circuit board parallel to the panel",
            new("behind", Q(Dimension.Length, "from the panel's back to the board; not given: 10 mm")),
            new("tall", Q(Dimension.Length, "tallest thing on its far side, plugs included; not given: 20 mm"))
        );

    private static JsonObject Fitting() =>
        Shape.Map(
            "the mechanical form of a panel part",
            new("like", Shape.Text("a form that gives what is not written here")),
            new("hole", Q(Dimension.Length, "diameter of the panel hole")),
            new("nut", Q(Dimension.Length, "across the corners of nut or washer")),
            new("knob", Q(Dimension.Length, "diameter of the knob")),
            new("hand", Q(Dimension.Length, "diameter of the circle that fingers or a plug need")),
            new("body width", Q(Dimension.Length, "behind the panel")),
            new("body height", Q(Dimension.Length, "behind the panel")),
            new("depth", Q(Dimension.Length, "from the panel's back to where it stands on the board, or to its end"))
        );

    private static JsonObject Place() =>
        Shape.Map(
            "where a part stands, and what is printed beside it",
            new("at", Shape.Tuple(Q(Dimension.Length, ""), "from the left edge and from the upper edge, seen from the front", 2), true),
            new("fits", Shape.Text("its form; not given: the usual one of its kind")),
            new("knob", Q(Dimension.Length, "diameter of its knob; not given: the form's")),
            new("legend", Shape.Text("not given: a jack's label, the net of a potentiometer's wiper or of a selector's pole")),
            new("legend at", Shape.Word("not given: above", ["above", "below", "left", "right"])),
            new("marks", Shape.List(Shape.Text(""), "printed beside a switch, one for each way", 0))
        );
}
