using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Expected;
using Consort.Engine.Scope;

namespace Consort.Engine.Documents.Packs;

/// <summary>First power-up: what to measure in which order, and what to expect.</summary>
internal static class GuidePower
{
    private const double Head = 26; // mm of a table's name, its titles and a row or two

    public static void Write(PaperFlow flow, PackContent content)
    {
        flow.Chapter("First power-up");
        flow.Say("One module at a time, each at the far end of its own supply lead, nothing plugged into its jacks. A supply whose current can be limited, set to twice the expected current, spares parts.");
        flow.List(
            [
                "No chips in the sockets, no module on the lead: measure every rail at the lead's plug against 0 V, and its sign.",
                "Power off. Measure between each rail and 0 V of the module: less than 100 ohm is a short (common practice); look for solder bridges and reversed parts.",
                "Plug the module in, still without chips: the rails stand, nothing gets warm.",
                "Power off, chips in, power on: compare the current of every rail with the table. Twice as much, or none: off, and look.",
                "Go down the test points in their order; the first that is wrong is nearest to the fault.",
            ],
            isNumbered: true
        );
        flow.Say($"Bands: the least and the most of the simulated builds, parts drawn within their limits, nothing trimmed yet; a further build lies outside the band of {ExpectedReadings.Builds} once in {Seldom(ExpectedReadings.Builds)} times, outside that of {ExpectedReadings.MovingBuilds} once in {Seldom(ExpectedReadings.MovingBuilds)}. Rails are as the supply is set. Currents are means while it plays. Of what moves, the design stands above and its band below it. Voltages are against the module's own 0 V, black probe at its 0 V.");
        foreach (ExpectedUnit unit in content.Units)
            Unit(flow, unit, content.Voice);
    }

    // One more of so many alike is as likely as any of them to be the least, or the most.
    private static int Seldom(int builds) => (builds + 1) / 2;

    private static void Unit(PaperFlow flow, ExpectedUnit unit, Voice voice)
    {
        flow.Heading($"{unit.Module.Name}{(unit.Lead is { } lead ? $", on the link of {lead}" : "")}");
        flow.Say($"{Controls(unit.Module)}{Pitch(unit, voice)}Bands of {unit.Builds} builds{(unit.MovingBuilds > 0 ? $", of what moves {unit.MovingBuilds}" : "")}.");
        flow.Table(
            [new("rail", 24), new("current", 26, true), new("band", 48, true), new("measured", 34)],
            unit.Rails.Select(rail => ImmutableArray.Create(rail.Rail, Milliamps(rail.Amps), $"{Milliamps(rail.Least)} to {Milliamps(rail.Most)}", "")),
            least: 7
        );
        Standing(flow, unit, [.. unit.Points.Where(point => !point.Moves)]);
        Moving(flow, [.. unit.Points.Where(point => point.Moves)]);
        if (unit.Outputs is { } outputs)
            flow.Art(TracePlot.Draw(outputs, "Outputs as the oscilloscope shows them"), 104);
        foreach (ScopeRecord inner in TracePlot.Sheets(unit.Inner))
            flow.Art(TracePlot.Draw(inner, "Places inside as the oscilloscope shows them, by net"));
    }

    private static void Standing(PaperFlow flow, ExpectedUnit unit, TestPoint[] points)
    {
        if (points.Length > 0)
            flow.Keep(Head).Say("Standing voltages (multimeter)", bold: true).Table(
                [new("touch", 40), new("net", 44), new("expected", 22, true), new("band", 40, true), new("measured", 28)],
                points.Select(point => ImmutableArray.Create(point.Touch, point.Net, Volts(point.Volts), Band(unit, point), "")),
                least: 6
            );
        string[] spiked = [.. points.Where(point => point.Spikes is not null).Select(point => $"{point.Touch} ({Volts(point.Spikes!.Value.Lowest)} to {Volts(point.Spikes.Value.Highest)})")];
        if (spiked.Length > 0)
            flow.Say($"On the oscilloscope short spikes at the edges are in order: {string.Join(", ", spiked)}.", 8.5);
    }

    private static void Moving(PaperFlow flow, TestPoint[] points)
    {
        if (points.Length > 0)
            flow.Keep(Head).Say("Moving voltages (oscilloscope; a multimeter shows the mean)", bold: true).Table(
                [new("touch", 27), new("net", 26), new("lowest", 28, true), new("highest", 28, true), new("mean", 28, true), new("frequency", 27, true), new("ok", 10)],
                points.Select(point => ImmutableArray.Create(
                    point.Touch,
                    point.Net,
                    Moved(point.Low, point.Bands?.Lowest, "V"),
                    Moved(point.High, point.Bands?.Highest, "V"),
                    Moved(point.Volts, point.Bands?.Mean, "V"),
                    Moved(point.Hertz, point.Bands?.Hertz, "Hz"),
                    "☐"
                ))
            );
    }

    // The rails are the supply's: what a module's parts do to them is less than how a supply is set.
    private static string Band(ExpectedUnit unit, TestPoint point) => unit.Rails.Any(rail => rail.Rail == point.Net) ? "as the supply is set" : $"{Volts(point.Low)} to {Volts(point.High)}";

    private static string Moved(double design, Band? band, string unit) =>
        double.IsNaN(design) ? ""
        : band is { } builds && Hundredths(builds.Least) is var least && Hundredths(builds.Most) is var most && double.IsFinite(builds.Least) && least != most ? $"{Hundredths(design)} {unit}\n{least} to {most}"
        : $"{Hundredths(design)} {unit}";

    private static string Hundredths(double value) => string.Create(CultureInfo.InvariantCulture, $"{(Math.Abs(value) < 5e-3 ? 0 : value):0.00}");

    // What the file says of the controls, so that the builder sets them the same.
    private static string Controls(Module module)
    {
        string[] settings = [.. module.Circuit.Where(part => part.Kind.Word is "potentiometer" or "selector").Select(part => Setting(module, part))];
        return settings.Length == 0 ? "" : $"Set {string.Join(", ", settings)}. ";
    }

    private static string Setting(Module module, Part part)
    {
        string legend = module.Panel.Layout?.Places.FirstOrDefault(place => place.Part == part.Name)?.Legend ?? "";
        string called = legend.Length > 0 && legend != part.Name ? $"{part.Name} ({legend})" : part.Name;
        return part.Kind.Word == "selector"
            ? string.Create(CultureInfo.InvariantCulture, $"{called} to its position {part.Number("value"):0}")
            : part.Number("position") switch
            {
                0 => $"{called} fully counter-clockwise",
                1 => $"{called} fully clockwise",
                0.5 => $"{called} to the middle",
                double other => string.Create(CultureInfo.InvariantCulture, $"{called} to {100 * other:0} %"),
            };
    }

    private static string Pitch(ExpectedUnit unit, Voice voice)
    {
        Member member = voice.Members.First(member => member.Module.At.File == unit.Module.At.File);
        TestPoint? heard = unit.Points.FirstOrDefault(point => point.Moves && double.IsFinite(point.Hertz));
        return heard is null || member.Module.Pitch is null ? ""
            : $"It plays {Figures.Hertz(heard.Hertz)} Hz in the design{(heard.Bands is { } bands ? $"; before trimming builds lie between {Figures.Hertz(bands.Hertz.Least)} and {Figures.Hertz(bands.Hertz.Most)} Hz" : "")}. ";
    }

    private static string Milliamps(double amps) => string.Create(CultureInfo.InvariantCulture, $"{1e3 * amps:0.0} mA");

    private static string Volts(double volts) =>
        string.Create(CultureInfo.InvariantCulture, $"{(Math.Abs(volts) < 5e-4 ? 0 : volts):0.000} V");
}
