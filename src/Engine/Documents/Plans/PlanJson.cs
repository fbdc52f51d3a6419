using Consort.Engine.Planning;

namespace Consort.Engine.Documents.Plans;

/// <summary>A wiring plan as JSON, in the shape that docs/json.md describes.</summary>
public static class PlanJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(WiringPlan plan) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort plan").Number("version", Version).Text("voice", plan.Voice);
            json.List("oscillators", plan.Intent.Oscillators, one => json.Text("name", one.Name).Number("standsCents", one.StandsCents));
            json.List("wishes", plan.Intent.Wishes, wish => json.Text("player", wish.Player).Text("to", wish.To).Texts("of", wish.Oscillators));
            int number = 0;
            json.List("alternatives", plan.Alternatives, one => Alternative(json, one, ++number));
            json.Texts("leftOut", plan.LeftOut).Texts("notes", plan.Notes);
        });

    private static void Alternative(JsonText json, Alternative one, int number)
    {
        json.Number("number", number).Text("name", one.Name).Flag("unbeaten", one.IsUnbeaten).Text("sentence", one.Sentence);
        json.Number("widthMm", 1e3 * one.WidthMetres).Number("rows", one.Rows).Number("depthMm", 1e3 * one.DepthMetres);
        json.Number("cordCount", one.Cords).Number("cordMetres", one.CordMetres).Number("multiples", one.Multiples).Number("freeInputsLost", one.FreeInputsLost);
        json.Number("price", (double)one.Price).Number("unpriced", one.Unpriced);
        json.Number("movedCents", one.Pitch.MovedCents).Number("trackingCents", one.Pitch.TrackingCents).Number("apartCents", one.Pitch.ApartCents);
        if (one.Builds is { } builds)
            json.Object("yield", () => Yield(json, builds));
        if (one.Lock is { } locks)
            json.Object("lock", () => Lock(json, locks));
        json.Texts("unmet", one.Unmet).Texts("extra", one.Extra);
        json.List("cords", one.Voice.Cords, cord => json.Text("from", $"{cord.From}").Text("to", $"{cord.To}").Number("metres", cord.Length));
        json.List("ribbons", one.Voice.Ribbons, ribbon => json.Text("from", $"{ribbon.From}").Texts("to", ribbon.To.Select(to => $"{to}")).Number("metres", ribbon.Length));
        json.List("places", one.Places, place => json.Text("name", place.Name).Number("row", place.Row).Number("leftMm", 1e3 * place.Left).Number("widthMm", 1e3 * place.Width).Texts("holds", place.Holds));
        json.Object("case", () => Fit(json, one.Case));
    }

    private static void Yield(JsonText json, WayBuilds builds)
    {
        if (builds.Yield is { } yield)
            json.Number("builds", yield.Of).Number("passed", yield.Passed).Number("share", yield.Share).Number("low", yield.Low).Number("high", yield.High);
        else
            json.Text("why", builds.Why);
    }

    private static void Lock(JsonText json, WayLock locks)
    {
        if (locks.Widest is { } pair)
            json.Text("first", pair.First).Text("second", pair.Second).Number("volts", pair.Volts).Number("fromCents", pair.Low).Number("toCents", pair.High).Number("widthCents", pair.Width).Text("path", $"{pair.Paths[0].Path}".ToLowerInvariant());
        else
            json.Text("why", locks.Why);
    }

    private static void Fit(JsonText json, CaseCheck check)
    {
        json.List("rails", check.Rails, rail => json.Text("rail", rail.Rail).Number("amps", rail.Amps).Number("limitAmps", rail.Limit).Number("leftAmps", rail.Left)
            .Number("inrushAmps", rail.Inrush.PeakAmps).Number("inrushCoulombs", rail.Inrush.Coulombs).Number("chargedSeconds", rail.Inrush.SecondsAtLimit(rail.Amps, rail.Limit)));
        json.List("slots", check.Slots, slot => json.Text("module", slot.Member).Number("row", slot.Row)
            .List("drops", slot.DropVolts.OrderBy(drop => drop.Key, StringComparer.Ordinal), drop => json.Text("rail", drop.Key).Number("volts", drop.Value))
            .Number("groundVolts", slot.GroundVolts).Number("pitchCents", slot.PitchCents));
        json.List("contacts", check.Contacts, contact => json.Text("contact", contact.Wire).Number("amps", contact.Amps).Number("ratedAmps", contact.Rating));
        json.List("pins", check.Pins, pin => json.Text("rail", pin.Rail).Text("module", pin.Member).Number("amps", pin.Share.Amps).Number("contacts", pin.Share.Pins).Number("perContactAmps", pin.Share.PerPin).Number("ratedAmps", pin.Share.Rating));
        json.Texts("warnings", check.Warnings);
    }
}
