using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads a module's <c>panel</c>: its size, and where its parts stand.</summary>
/// <param name="panel">The map.</param>
/// <param name="title">The module's name, printed when the panel gives no title.</param>
/// <param name="parts">The circuit's parts.</param>
/// <param name="partsSound">False when the circuit has errors: then parts are not looked for in it.</param>
internal sealed class PanelReader(MapReader panel, string title, ImmutableArray<Part> parts, bool partsSound)
{
    private const double Mm = 1e-3;
    private const double LeastClearance = 0.3 * Mm; // IEC 60297-3-101: a panel of n HP is that much narrower

    /// <summary>The panel; null when its size cannot be read.</summary>
    public Panel? Read()
    {
        double? width = Positive("width", Dimension.PanelWidth, "width: 8 HP");
        double? height = Positive("height", Dimension.PanelHeight, "height: 3 U");
        double depth = panel.Number("depth", Dimension.Length) ?? 0;
        double clearance = Within("clearance", IsIn("width", "HP") ? LeastClearance : 0, 0, 5 * Mm);
        double grid = Within("grid", 0, 0, 25.4 * Mm);
        double text = Within("text", 2.5 * Mm, 0.5 * Mm, 20 * Mm);
        double rails = Within("rails", IsIn("height", "U") ? 10 * Mm : 0, 0, 50 * Mm);
        string written = panel.Text("title") ?? title;
        BoardBehind? board = panel.Inner("board") is { } inner ? Board(inner) : null;
        Mounting mounting = new(panel.Inner("mounting"), IsIn("height", "U"), IsIn("width", "HP"));
        FittingReader fittings = new(panel.Inner("fittings"));
        SourceSpan? placesAt = panel.Map.Find("places")?.KeyAt;
        ImmutableArray<PanelPlace> places = panel.Inner("places") is { } list ? Places(list, fittings) : [];
        panel.RefuseTheRest();
        if (width is not { } w || height is not { } h)
            return null;
        double sheet = w - clearance;
        double tall = IsIn("height", "U") ? h - (4.85 * Mm) : h; // 3 U: 128.5 mm of 133.35 (IEC 60297-3-101)
        CheckInside(places, sheet, tall);
        PanelLayout layout = new(sheet, tall, IsIn("height", "U"), grid, text, written, rails, mounting.Slots(w, sheet, tall), board, places, placesAt ?? panel.At);
        return new(w, h, depth) { Layout = places.IsEmpty ? null : layout };
    }

    private bool IsIn(string key, string unit) =>
        panel.Map.Find(key)?.Value is YamlText text && text.Value.TrimEnd().EndsWith(unit, StringComparison.Ordinal);

    private double? Positive(string key, Dimension dimension, string example)
    {
        double? value = panel.NeedNumber(key, dimension, example);
        if (value is not <= 0)
            return value;
        panel.Errors.Add(ErrorCodes.OutOfRange, panel.Map.Find(key)!.Value.At, $"{panel.Who}: {key} must be above 0", $"write '{example}'");
        return null;
    }

    private double Within(string key, double fallback, double low, double high) => panel.InRange(key, Dimension.Length, fallback, low, high);

    private static BoardBehind Board(MapReader board)
    {
        double behind = board.InRange("behind", Dimension.Length, 10 * Mm, 1 * Mm, 200 * Mm);
        double tall = board.InRange("tall", Dimension.Length, 20 * Mm, 0, 200 * Mm); // a box header with its plug, common practice
        board.RefuseTheRest();
        return new(behind, tall);
    }

    private ImmutableArray<PanelPlace> Places(MapReader list, FittingReader fittings)
    {
        ImmutableArray<PanelPlace>.Builder places = ImmutableArray.CreateBuilder<PanelPlace>();
        foreach (YamlEntry entry in list.Map.Entries)
            if (list.MapOf(entry) is { } map && Place(entry, new(map, entry.Key, panel.Errors), fittings) is { } place)
                places.Add(place);
        CheckAllPlaced(list);
        return places.ToImmutable();
    }

    private PanelPlace? Place(YamlEntry entry, MapReader map, FittingReader fittings)
    {
        Part? part = parts.FirstOrDefault(part => part.Name == entry.Key);
        (double X, double Y)? at = map.Need("at", "at: [15 mm, 30 mm]") is { } point ? Point(map, point) : null;
        Fitting? fitting = fittings.Of(map, part?.Kind.Word);
        YamlEntry? legend = map.Take("legend");
        string? side = map.Word("legend at", "above", "below", "left", "right");
        ImmutableArray<string> marks = [.. map.Items("marks").OfType<YamlText>().Select(text => text.Value)];
        map.RefuseTheRest();
        if (part is null || Fittings.Usual(part.Kind.Word) is null)
        {
            if (partsSound)
                Refuse(entry, part);
            return null;
        }
        if (at is not { } middle || fitting is null)
            return null;
        return new(entry.Key, part.Kind.Word, part.Texts.GetValueOrDefault("value") == "output", middle.X, middle.Y, fitting,
            legend is null ? UsualLegend(part) : (legend.Value as YamlText)?.Value ?? "", SideOf(side), marks, entry.KeyAt);
    }

    private void Refuse(YamlEntry entry, Part? part)
    {
        string[] known = [.. parts.Where(p => Fittings.Usual(p.Kind.Word) is not null).Select(p => p.Name)];
        if (part is null)
            panel.Errors.Add(ErrorCodes.PlaceOfNothing, entry.KeyAt, $"panel: the circuit has no {ErrorList.Quote(entry.Key)}", NearName.Mend(entry.Key, known));
        else
            panel.Errors.Add(ErrorCodes.PlaceOfNothing, entry.KeyAt, $"panel: {entry.Key} is a {part.Kind.Word} and stands on no panel",
                "jacks, potentiometers, selectors and trimmers do");
    }

    // Whatever a hand or a cord has to reach needs a place, once one part has one. Trimmers may hide behind the panel.
    private void CheckAllPlaced(MapReader list)
    {
        string[] missing =
        [
            .. parts.Where(part => part.Kind.Word is "jack" or "potentiometer" or "selector" && list.Map.Find(part.Name) is null).Select(part => part.Name),
        ];
        if (partsSound && missing.Length > 0)
            panel.Errors.Add(ErrorCodes.NoPlace, panel.Map.Find("places")!.KeyAt, $"panel: {string.Join(", ", missing)} {(missing.Length == 1 ? "has" : "have")} no place",
                $"add '{missing[0]}: {{at: [15 mm, 30 mm]}}'");
    }

    private static (double, double)? Point(MapReader map, YamlEntry entry)
    {
        if (entry.Value is YamlList { Items: [YamlText x, YamlText y] })
            return map.Errors.Quantity(x, Dimension.Length, $"{map.Who}: at") is { } right && map.Errors.Quantity(y, Dimension.Length, $"{map.Who}: at") is { } down
                ? (right, down) : null;
        map.Errors.Add(ErrorCodes.WrongShape, entry.Value.At, $"{map.Who}: 'at' is {entry.Value.Shape}, not two lengths", "write 'at: [15 mm, 30 mm]': from the left edge and from the top");
        return null;
    }

    private void CheckInside(ImmutableArray<PanelPlace> places, double width, double height)
    {
        foreach (PanelPlace place in places)
            if (place.X < 0 || place.Y < 0 || place.X > width || place.Y > height)
                panel.Errors.Add(ErrorCodes.PlaceOutside, place.At, $"panel: {place.Part} lies outside the sheet of {width / Mm:0.##} by {height / Mm:0.##} mm",
                    "count from the left and the upper edge");
    }

    private static string UsualLegend(Part part) =>
        part.Kind.Word switch
        {
            "jack" => part.Texts["label"],
            "potentiometer" => part.NetAt("wiper") ?? "",
            "trimmer" => part.Name,
            _ => part.NetAt("pole") ?? "",
        };

    private static LegendSide SideOf(string? word) =>
        word switch
        {
            "below" => LegendSide.Below,
            "left" => LegendSide.Left,
            "right" => LegendSide.Right,
            _ => LegendSide.Above,
        };
}
