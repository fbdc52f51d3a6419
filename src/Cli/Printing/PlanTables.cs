using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Documents.Plans;
using Consort.Engine.Planning;
using Spectre.Console;

namespace Consort.Cli.Printing;

/// <summary>A wiring plan on the terminal.</summary>
internal static class PlanTables
{
    /// <summary>What is wanted, the ways, what tells them apart, case and supply.</summary>
    public static void Print(Screen screen, WiringPlan plan, string currency)
    {
        screen.Write(new Text($"{plan.Voice}: {Figures.WithUnit(plan.Alternatives.Length, "ways")} to wire {string.Join(", ", plan.Intent.Oscillators.Select(one => one.Name))}"));
        foreach (Wish wish in plan.Intent.Wishes)
            screen.Write(new Text($"{wish.Player} to {wish.To} of {Who(wish, plan.Intent)}"));
        screen.Line();
        screen.Write(Room(plan));
        screen.Line();
        screen.Write(Load(plan, currency));
        screen.Line();
        screen.Write(Pitch(plan));
        screen.Line();
        screen.Line("* no other way is as good on every count of these tables and better on one");
        screen.Line();
        Table sentences = Screen.Columns(("", true), ("", false));
        for (int i = 0; i < plan.Alternatives.Length; i++)
            Screen.Row(sentences, $"{i + 1}", $"{plan.Alternatives[i].Name}. {plan.Alternatives[i].Sentence}");
        screen.Write(sentences);
        screen.Line();
        Fit(screen, plan);
        foreach (string passed in plan.LeftOut)
            screen.Write(new Text("Left out: " + passed));
        foreach (string note in plan.Notes)
            screen.Write(new Text("Note: " + note));
    }

    /// <summary>One way in full: its cords, its slots.</summary>
    public static void PrintWay(Screen screen, WiringPlan plan, int number)
    {
        Alternative one = plan.Alternatives[number - 1];
        screen.Write(new Text($"{plan.Voice}: way {number}, {one.Name}"));
        screen.Line();
        Table cords = Screen.Columns(("cord", true), ("from", false), ("to", false), ("length", true));
        for (int i = 0; i < one.Voice.Cords.Length; i++)
            Screen.Row(cords, $"{i + 1}", $"{one.Voice.Cords[i].From}", $"{one.Voice.Cords[i].To}", $"{100 * one.Voice.Cords[i].Length:0} cm");
        foreach (Ribbon ribbon in one.Voice.Ribbons)
            Screen.Row(cords, "ribbon", $"{ribbon.From}", string.Join(", ", ribbon.To), $"{100 * ribbon.Length:0} cm a step");
        screen.Write(cords);
        screen.Line();
        screen.Write(Slots(one));
        screen.Line();
        screen.Write(Rails(one));
        screen.Line();
        screen.Write(Contacts(one));
        Warn(screen, one, "");
    }

    private static string Who(Wish wish, Intent intent) =>
        wish.Oscillators.Length == intent.Oscillators.Length ? "all" : string.Join(", ", wish.Oscillators);

    private static Table Room(WiringPlan plan)
    {
        Table table = Screen.Columns(("", true), ("", false), ("width", true), ("rows", true), ("depth", true), ("cords", true), ("length", true), ("multiples", true), ("inputs lost", true));
        for (int i = 0; i < plan.Alternatives.Length; i++)
        {
            Alternative one = plan.Alternatives[i];
            Screen.Row(table, Number(one, i), one.Name, $"{1e3 * one.WidthMetres:0} mm", $"{one.Rows}", $"{1e3 * one.DepthMetres:0} mm", $"{one.Cords}", $"{one.CordMetres:0.0} m", $"{one.Multiples}", $"{one.FreeInputsLost}");
        }
        return table;
    }

    private static Table Load(WiringPlan plan, string currency)
    {
        Table table = Screen.Columns([("", true), .. plan.Alternatives[0].Case.Rails.Select(rail => (rail.Rail, true)), ($"price {currency}".Trim(), true), ("unmet", true), ("unasked", true)]);
        for (int i = 0; i < plan.Alternatives.Length; i++)
        {
            Alternative one = plan.Alternatives[i];
            string price = $"{(one.Unpriced > 0 ? "over " : "")}{one.Price:0.00}";
            Screen.Row(table, [Number(one, i), .. one.Case.Rails.Select(rail => $"{1e3 * rail.Amps:0} mA"), price, $"{one.Unmet.Length}", $"{one.Extra.Length}"]);
        }
        return table;
    }

    private static Table Pitch(WiringPlan plan)
    {
        Table table = Screen.Columns([("", true), ("moved, cents", true), ("tracks, cents", true), ("apart, cents", true), .. Asked(plan)]);
        for (int i = 0; i < plan.Alternatives.Length; i++)
        {
            Alternative one = plan.Alternatives[i];
            Screen.Row(table, [Number(one, i), Figures.SignedCents(one.Pitch.MovedCents), Size(one.Pitch.TrackingCents), Size(one.Pitch.ApartCents), .. Found(one)]);
        }
        return table;
    }

    private static IEnumerable<(string, bool)> Asked(WiringPlan plan)
    {
        if (plan.Alternatives[0].Builds is not null)
            yield return ("yield", true);
        if (plan.Alternatives[0].Lock is not null)
            yield return ("locks over, cents", true);
    }

    private static IEnumerable<string> Found(Alternative one)
    {
        if (one.Builds is { } builds)
            yield return PlanWords.Yield(builds);
        if (one.Lock is { } locks)
            yield return PlanWords.Locks(locks, "-");
    }

    private static void Fit(Screen screen, WiringPlan plan)
    {
        screen.Line("Case and supply");
        Table table = Screen.Columns(("", true), ("least left", true), ("of", false), ("inrush", true), ("charged in", true), ("fullest contact", true), ("0 V shift", true), ("its pitch, cents", true), ("warnings", true));
        for (int i = 0; i < plan.Alternatives.Length; i++)
        {
            CaseCheck check = plan.Alternatives[i].Case;
            RailMargin worst = check.Rails.MaxBy(rail => rail.Inrush.PeakAmps)!;
            Screen.Row(table, $"{i + 1}", $"{100 * check.Tightest.Share:0} %", check.Tightest.Rail, Figures.Si(worst.Inrush.PeakAmps, "A"), Figures.Si(worst.Inrush.SecondsAtLimit(worst.Amps, worst.Limit), "s"),
                check.Contacts.IsEmpty ? "none" : $"{100 * check.Contacts[0].Amps / check.Contacts[0].Rating:0.0} %", Figures.Si(check.MostMoved?.GroundVolts ?? 0, "V"), Figures.SignedCents(check.MostMoved?.PitchCents ?? 0), $"{check.Warnings.Length}");
        }
        screen.Write(table);
        for (int i = 0; i < plan.Alternatives.Length; i++)
            Warn(screen, plan.Alternatives[i], $"way {i + 1}: ");
    }

    private static void Warn(Screen screen, Alternative one, string before)
    {
        foreach (string warning in one.Case.Warnings)
            screen.Write(new Text($"Warning: {before}{warning}"));
        if (one.Builds is { Why.Length: > 0 } builds)
            screen.Write(new Text($"Warning: {before}its yield could not be computed: {builds.Why}"));
        if (one.Lock is { Why.Length: > 0 } locks)
            screen.Write(new Text($"Note: {before}no lock range: {locks.Why}"));
    }

    private static Table Slots(Alternative one)
    {
        string[] rails = [.. one.Case.Rails.Select(rail => rail.Rail)];
        Table table = Screen.Columns([("slot", true), ("module", false), ("row", true), .. rails.Select(rail => ($"{rail} drops", true)), ("0 V shift", true), ("pitch moves, cents", true)]);
        for (int i = 0; i < one.Case.Slots.Length; i++)
        {
            SlotSupply slot = one.Case.Slots[i];
            Screen.Row(table, [$"{i + 1}", slot.Member, $"{slot.Row + 1}", .. rails.Select(rail => slot.DropVolts.TryGetValue(rail, out double drop) ? Figures.Si(drop, "V") : "-"), Figures.Si(slot.GroundVolts, "V"), slot.PitchCents is { } cents ? Figures.SignedFine(cents) : "-"]);
        }
        return table;
    }

    private static Table Rails(Alternative one)
    {
        Table table = Screen.Columns(("rail", false), ("drawn", true), ("limit", true), ("left", true), ("inrush", true), ("charged in", true), ("fullest plug", false), ("a contact", true), ("rated", true));
        foreach (RailMargin rail in one.Case.Rails)
        {
            (string _, string member, PinShare share) = one.Case.Pins.FirstOrDefault(pin => pin.Rail == rail.Rail);
            Screen.Row(table, rail.Rail, Figures.Si(rail.Amps, "A"), Figures.Si(rail.Limit, "A"), $"{100 * rail.Share:0.0} %", Figures.Si(rail.Inrush.PeakAmps, "A"), Figures.Si(rail.Inrush.SecondsAtLimit(rail.Amps, rail.Limit), "s"),
                member ?? "-", share is null ? "-" : Figures.Si(share.PerPin, "A"), share is null ? "-" : Figures.Si(share.Rating, "A"));
        }
        return table;
    }

    private static Table Contacts(Alternative one)
    {
        const int Shown = 5;
        Table table = Screen.Columns(("fullest contacts", false), ("carries", true), ("rated", true));
        foreach (Engine.Pitch.ContactLoad contact in one.Case.Contacts.Take(Shown))
            Screen.Row(table, contact.Wire, Figures.Si(contact.Amps, "A"), Figures.Si(contact.Rating, "A"));
        return table;
    }

    private static string Size(double cents) => Figures.SignedCents(cents).TrimStart('+');

    private static string Number(Alternative one, int i) => $"{(one.IsUnbeaten ? "*" : "")}{i + 1}";
}
