using System.Text.Json.Nodes;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design.Schema;

internal static partial class FileShape
{
    /// <summary>A voice file.</summary>
    public static JsonObject Voice() =>
        Shape.Map(
            "oscillators that play as one, with what plays them, wiring and supply",
            new("voice", Shape.Text("its name"), true),
            new("about", Shape.Text("one paragraph for people")),
            new("limits", Limits()),
            new("supply", Supply(), true),
            new("plan", Plan()),
            new("modules", Shape.MapOf(Member(), "the modules in it, by name, in panel order; a file that holds only a plan needs none")),
            new("players", Shape.MapOf(Player(), "sources of control voltages, by name; a player's jack is NAME/out")),
            new("multiples", Shape.MapOf(Multiple(), "multiples, by name; their jacks are NAME/in and NAME/1 to NAME/n")),
            new("cords", Shape.List(Cord(), "patch cords", 0)),
            new("ribbons", Shape.List(Ribbon(), "links behind the panel", 0))
        );

    private static JsonObject Plan() =>
        Shape.Map(
            "what is wanted, whatever way it is wired: input of a wiring plan",
            new("oscillators", Shape.MapOf(Q(Dimension.Interval, "interval at which it stands"), "the oscillators that are wanted, by name; not given: those of 'modules', and 'wishes' are what the wiring shows")),
            new("wishes", Shape.List(Wish(), "what is to reach them", 0)),
            new("case", Case())
        );

    private static JsonObject Case() =>
        Shape.Map(
            "the case that the voice goes into",
            new("row", Q(Dimension.PanelWidth, "width of a row; not given: one row of any width")),
            new("rows", Q(Dimension.Ratio, "rows that it has; not given: any number")),
            new("depth", Q(Dimension.Length, "from the panels' back to its bottom; not given: any")),
            new("pins", Q(Dimension.Ratio, "contacts side by side for each rail in a module's supply plug; not given: 1")),
            new("pin rating", Q(Dimension.Current, "what one contact may carry; not given: 3 A"))
        );

    private static JsonObject Wish() =>
        Shape.Map(
            "what a player gives is to reach an input",
            new("player", Shape.Text("the player"), true),
            new("to", Shape.Text("label of the input, as an oscillator with all its inputs has it"), true),
            new("only", Shape.List(Shape.Text(""), "these oscillators only; not given: all", 1))
        );

    private static JsonObject Limits() =>
        Shape.Map(
            "what the maker asks of it",
            new("tracking", Q(Dimension.Interval, "largest pitch error when trimmed; not given: 3 cents")),
            new("octaves", Q(Dimension.Ratio, "octaves over which it is asked; not given: 5")),
            new("from", Q(Dimension.Voltage, "control voltage where those octaves begin; not given: 1 V")),
            new("drift", Q(Dimension.Interval, "largest change of any note from 25 °C to either temperature; not given: 20 cents")),
            new(
                "temperatures",
                Shape.Tuple(Q(Dimension.Temperature, ""), "lower and upper temperature; not given: 15 °C and 35 °C", 2)
            ),
            new("follower error", Q(Dimension.Interval, "largest error of a follower against its lead; not given: 3 cents")),
            new("warm-up gradient", Q(Dimension.TemperatureStep, "by how much resistors that make up for temperature are colder than the rest while the voice warms up; not given: 1 K")),
            new("yield", Q(Dimension.Ratio, "share of trimmed builds that is asked to keep every limit; not given: 90 %")),
            new("followers", Q(Dimension.Ratio, "followers that the lead is asked to carry; not given: those on its ribbon"))
        );

    private static JsonObject Supply() =>
        Shape.Map(
            "rails by name (their net in every module), and the wiring between slots",
            new("rails", Shape.MapOf(Rail(), "the rails"), true),
            new("slot resistance", Q(Dimension.Resistance, "of a rail's wire from one module to the next; not given: 0", bare: true)),
            new("ground slot resistance", Q(Dimension.Resistance, "the same for 0 V; not given: that of the rails", bare: true))
        );

    private static JsonObject Rail() =>
        Shape.Map(
            "one rail",
            new("voltage", Q(Dimension.Voltage, "its voltage"), true),
            new("source resistance", Q(Dimension.Resistance, "of the supply; not given: 0", bare: true)),
            new("tempco", Q(Dimension.PerKelvin, "relative change per kelvin; not given: 0")),
            new("limit", Q(Dimension.Current, "largest current"), true)
        );

    private static JsonObject Member() =>
        Shape.Map(
            "a module's place in the voice",
            new("module", Shape.Text("its file's name in modules/, without .yaml"), true),
            new("stands", Q(Dimension.Interval, "interval at which it stands against the voice's pitch")),
            new(
                "set",
                Shape.MapOf(Q(Dimension.Ratio, "position of a potentiometer or trimmer, or a selector's way"), "controls moved from their written position")
            )
        );

    private static JsonObject Player() =>
        Shape.Map(
            "a source of one control voltage",
            new("plays", Shape.Word("pitch: carries the keyboard's voltage in a tracking run; fixed: stands at one voltage", ["pitch", "fixed"]), true),
            new("resistance", Shape.Quantity(Dimension.Resistance, "source resistance; not given: 1k", bare: true)),
            new("from", Q(Dimension.Voltage, "lowest voltage; not given: 0 V")),
            new("to", Q(Dimension.Voltage, "highest voltage; not given: 9 V for pitch, else 'at'")),
            new("at", Q(Dimension.Voltage, "where it stands otherwise; not given: 'from'"))
        );

    private static JsonObject Multiple() => Shape.Map("a multiple", MultipleEntries());

    private static Shape.Entry[] MultipleEntries() =>
        [
            new("multiple", Shape.Word("passive: all jacks on one net; buffered: a buffer for each output", ["passive", "buffered"]), true),
            new("ways", Q(Dimension.Ratio, "number of outputs"), true),
            new("width", Q(Dimension.PanelWidth, "panel width; not given: none")),
            new("offset within", Q(Dimension.Voltage, "limit of a buffer's offset, either sign; not given: 0")),
            new("output resistance", Shape.Quantity(Dimension.Resistance, "of each buffer; not given: 100R", bare: true)),
            new("input resistance", Shape.Quantity(Dimension.Resistance, "of the buffered input; not given: 100k", bare: true)),
        ];

    private static JsonObject Cord() =>
        Shape.Map(
            "a patch cord from jack to jack",
            new("from", Shape.Text("MEMBER/LABEL of the jack that drives it"), true),
            new("to", Shape.Text("MEMBER/LABEL of the jack that it feeds"), true),
            new("length", Q(Dimension.Length, "not given: 60 cm"))
        );

    private static JsonObject Ribbon() =>
        Shape.Map(
            "a ribbon from a lead's header along its followers' headers",
            new("from", Shape.Text("MEMBER/HEADER of the lead"), true),
            new("to", Shape.List(Shape.Text("MEMBER/HEADER of a follower"), "the followers' headers, in order"), true),
            new("length", Q(Dimension.Length, "from header to header; not given: 12 cm")),
            new("gauge", Q(Dimension.Ratio, "American wire gauge; not given: 28"))
        );
}
