using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Documents.Panels;

/// <summary>Checks a panel as a hand, a drill and a rail would. Room that is asked is common practice, no source, where no
/// standard is named.</summary>
/// <param name="module">A module whose panel has places.</param>
/// <param name="errors">Where findings go.</param>
internal sealed class PanelCheck(Module module, ErrorList errors)
{
    private const double ToMm = 1e3;
    private const double Apart = 0.5; // mm between nuts or knobs
    private const double Wall = 2; // mm of sheet between a hole and the edge
    private const double BoardThickness = 1.6; // mm of a circuit board
    private const double ScrewHead = 6; // mm, M3 with its washer
    private const double ReadableText = 1.5;
    private const double Rounding = 1e-3; // a micrometre

    private readonly PanelLayout layout = module.Panel.Layout!;
    private readonly PanelArtist artist = new(module);

    /// <summary>Adds all findings.</summary>
    public void Run()
    {
        ImmutableArray<PanelPlace> places = layout.Places;
        for (int i = 0; i < places.Length; i++)
        {
            Alone(places[i]);
            for (int j = 0; j < i; j++)
                Pair(places[j], places[i]);
        }
        Depths();
        Texts();
        Reach();
    }

    private void Alone(PanelPlace place)
    {
        Spot middle = artist.Middle(place);
        double width = layout.Width * ToMm, height = layout.Height * ToMm;
        double hole = place.Fitting.Hole * ToMm / 2;
        double side = Math.Min(middle.X, width - middle.X);
        double end = Math.Min(middle.Y, height - middle.Y);
        double body = Math.Max(place.Fitting.Solid, place.Fitting.BodyWidth) * ToMm / 2;
        double inward = side <= end ? Math.Max(Wall + hole, body) - side : Wall + hole - end; // one way that mends both
        if (Math.Min(side, end) - hole < Wall - Rounding)
            Find(ErrorCodes.NearEdge, place, $"{place.Part}: {Mm(Math.Min(side, end) - hole)} of sheet are left beside its hole", $"leave {Mm(Wall)}: move it {Mm(inward)} inward");
        if (side < body - Rounding)
            Find(ErrorCodes.NearEdge, place, $"{place.Part} sticks out over the side", $"move it {Mm(Math.Max(Wall + hole, body) - side)} inward");
        if (end < (layout.RailClearance * ToMm) + (place.Fitting.BodyHeight * ToMm / 2))
            Find(ErrorCodes.InRail, place, $"{place.Part} stands in the way of the rail: {Mm(end - (place.Fitting.BodyHeight * ToMm / 2))} from the edge, where {Mm(layout.RailClearance * ToMm)} belong to it",
                "move it toward the middle, or state 'rails' of your case");
        foreach (MountingSlot slot in layout.Mounting)
            if (FromScrew(middle, slot) < (place.Fitting.Solid * ToMm / 2) + (ScrewHead / 2))
                Find(ErrorCodes.InRail, place, $"{place.Part} covers a screw", "move it away from the mounting slot");
        OffGrid(place);
    }

    private double FromScrew(Spot middle, MountingSlot slot)
    {
        double along = Math.Max(0, Math.Abs(middle.X - (slot.X * ToMm)) - (slot.Travel * ToMm / 2));
        double across = middle.Y - ((layout.Height - slot.Y) * ToMm);
        return Math.Sqrt((along * along) + (across * across));
    }

    private void OffGrid(PanelPlace place)
    {
        if (layout.Grid > 0 && (!IsOn(place.X) || !IsOn(place.Y)))
            Find(ErrorCodes.OffGrid, place, $"{place.Part} stands at {place.X * ToMm:0.###}, {place.Y * ToMm:0.###} mm, off the grid of {layout.Grid * ToMm:0.###} mm",
                $"the nearest place is [{Nearest(place.X):0.###} mm, {Nearest(place.Y):0.###} mm]");
    }

    private bool IsOn(double length) => Math.Abs(Nearest(length) - (length * ToMm)) < Rounding;

    private double Nearest(double length) => Math.Round(length / layout.Grid) * layout.Grid * ToMm;

    private void Pair(PanelPlace a, PanelPlace b)
    {
        Spot p = artist.Middle(a), q = artist.Middle(b);
        double distance = Math.Sqrt(Math.Pow(p.X - q.X, 2) + Math.Pow(p.Y - q.Y, 2));
        double solid = (a.Fitting.Solid + b.Fitting.Solid) * ToMm / 2;
        double room = HandRoom(a, b);
        if (distance < solid + Apart)
            Find(ErrorCodes.Collide, b, $"{b.Part} and {a.Part} touch: {Mm(distance)} from middle to middle, where nuts and knobs take {Mm(solid + Apart)}",
                room > solid + Apart ? $"move them {Mm(room - distance)} apart: hand or plug need {Mm(room)}" : $"move them {Mm(solid + Apart - distance)} apart");
        else if (Math.Abs(p.X - q.X) < (a.Fitting.BodyWidth + b.Fitting.BodyWidth) * ToMm / 2 && Math.Abs(p.Y - q.Y) < (a.Fitting.BodyHeight + b.Fitting.BodyHeight) * ToMm / 2)
            Find(ErrorCodes.Collide, b, $"{b.Part} and {a.Part} overlap behind the panel", "move them apart, or turn one of them and state its body");
        else if (distance < room)
            Find(ErrorCodes.FingerRoom, b, $"{b.Part} and {a.Part} are {Mm(distance)} apart, where hand or plug need {Mm(room)}", $"move them {Mm(room - distance)} apart, or take smaller knobs");
    }

    // From middle to middle, mm.
    private static double HandRoom(PanelPlace a, PanelPlace b) =>
        (a.Kind, b.Kind) switch
        {
            ("trimmer", "trimmer") => 0, // one screwdriver at a time
            ("jack", "jack") => (a.Fitting.Hand + b.Fitting.Hand) * ToMm / 2, // two plugs beside each other
            _ => Math.Max(a.Fitting.Hand + b.Fitting.Solid, b.Fitting.Hand + a.Fitting.Solid) * ToMm / 2,
        };

    private void Depths()
    {
        double depth = module.Panel.Depth * ToMm;
        double behind = layout.Board?.Behind * ToMm ?? double.PositiveInfinity;
        foreach (PanelPlace place in layout.Places)
        {
            double own = place.Fitting.Depth * ToMm;
            if (own > behind)
                Find(ErrorCodes.DeeperThanSpace, place, $"{place.Part} is {Mm(own)} deep, and the board stands {Mm(behind)} behind the panel", "move the board back, or wire the part instead");
            else if (depth > 0 && own > depth)
                Find(ErrorCodes.DeeperThanSpace, place, $"{place.Part} is {Mm(own)} deep, and the module {Mm(depth)}", "state the module's true depth");
        }
        double whole = behind + BoardThickness + (layout.Board?.Tall * ToMm ?? 0);
        if (layout.Board is not null && depth > 0 && whole > depth)
            errors.Add(ErrorCodes.DeeperThanSpace, layout.At, $"panel: board and plugs reach {Mm(whole)} behind the panel, and the module states {Mm(depth)}", $"state 'depth: {Math.Ceiling(whole):0} mm'");
    }

    private void Texts()
    {
        ImmutableArray<PanelText> texts = artist.Texts();
        for (int i = 0; i < texts.Length; i++)
        {
            OneText(texts[i]);
            for (int j = 0; j < i; j++)
                if (texts[i].Meets(texts[j]))
                    Hidden(texts[i], $"runs into {ErrorList.Quote(texts[j].Text)}");
        }
    }

    private void OneText(PanelText text)
    {
        if (text.Height < ReadableText - 1e-9)
            errors.Add(ErrorCodes.LegendSmall, text.At, $"{ErrorList.Quote(text.Text)} is {Mm(text.Height)} high", $"set 'text' to {Mm(Math.Ceiling(10 * ReadableText * layout.Text * ToMm / text.Height) / 10)} or more");
        if (StrokeFont.Missing(text.Text) is { Length: > 0 } missing)
            errors.Add(ErrorCodes.NoSuchLetter, text.At, $"{ErrorList.Quote(text.Text)}: the alphabet has no {ErrorList.Quote(missing)}", "use Latin letters, figures and the usual signs");
        if (text.Left < 0.5 || text.Right > (layout.Width * ToMm) - 0.5 || text.Bottom < 0.5 || text.Top > (layout.Height * ToMm) - 0.5)
            Hidden(text, "runs over the edge of the panel");
        foreach (PanelPlace place in layout.Places)
        {
            bool isOwn = place.Part == text.Owner;
            double reach = isOwn ? place.Fitting.Solid * ToMm / 2 : Math.Max(place.Fitting.Solid, place.Kind == "jack" ? place.Fitting.Hand : 0) * ToMm / 2;
            if (text.DistanceTo(artist.Middle(place)) < (isOwn ? reach : Math.Max(reach, PanelArtist.Inner(place))))
                Hidden(text, $"lies under {place.Part}{(place.Kind == "jack" ? " or its plug" : "")}");
        }
        foreach (MountingSlot slot in layout.Mounting)
            if (text.DistanceTo(new(slot.X * ToMm, (layout.Height - slot.Y) * ToMm)) < ((slot.Travel * ToMm) + ScrewHead) / 2)
                Hidden(text, "lies under a screw");
    }

    private void Hidden(PanelText text, string why) =>
        errors.Add(ErrorCodes.LegendHidden, text.At, $"the legend {ErrorList.Quote(text.Text)}{(text.Owner.Length > 0 ? $" of {text.Owner}" : "")} {why}",
            text.Owner.Length > 0 ? "write it shorter, smaller, or on another side ('legend at')" : "write a shorter 'title', or an empty one");

    private void Reach()
    {
        string[] hidden =
        [
            .. module.Circuit.Where(part => part.Kind.Word == "trimmer" && layout.Places.All(place => place.Part != part.Name)).Select(part => part.Name),
        ];
        if (hidden.Length > 0 && layout.Board is not null)
            errors.Note(ErrorCodes.Unreachable, layout.At, $"panel: {string.Join(", ", hidden)} {(hidden.Length == 1 ? "has" : "have")} no hole in the panel",
                "give each a place, or see that it is reached from behind while the module plays");
    }

    private void Find(ErrorCode code, PanelPlace place, string what, string mend) => errors.Add(code, place.At, what, mend);

    private static string Mm(double mm) => $"{Math.Max(0, mm):0.##} mm";
}
