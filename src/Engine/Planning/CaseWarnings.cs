using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Planning;

/// <summary>What does not fit, why it matters, and what to do. A fifth of a rail left, and a cent of pitch, are common
/// practice without a source.</summary>
internal static class CaseWarnings
{
    private const double LeftOver = 0.2;
    private const double MovedCents = 1;

    /// <summary>All of them.</summary>
    public static ImmutableArray<string> Of(
        Voice voice,
        ImmutableArray<RowPlace> places,
        RackCase into,
        ImmutableArray<RailMargin> rails,
        ImmutableArray<SlotSupply> slots,
        ImmutableArray<ContactLoad> contacts,
        ImmutableArray<(string Rail, string Member, PinShare Share)> pins
    ) => [.. Room(voice, places, into), .. rails.SelectMany(Rail), .. Contacts(contacts), .. pins.SelectMany(pin => Pin(pin.Rail, pin.Member, pin.Share)), .. Slots(slots)];

    private static IEnumerable<string> Room(Voice voice, ImmutableArray<RowPlace> places, RackCase into)
    {
        int rows = places.Max(place => place.Row) + 1;
        if (into.Rows > 0 && rows > into.Rows)
            yield return $"It fills {rows} rows and the case has {into.Rows}: take a larger case or a narrower way";
        foreach (RowPlace place in places.Where(place => into.Row > 0 && place.Width > into.Row + 1e-9))
            yield return string.Create(CultureInfo.InvariantCulture, $"{place.Name} is {1e3 * place.Width:0.#} mm wide and a row {1e3 * into.Row:0.#} mm: it fits in none");
        foreach (Member member in voice.Members.Where(member => into.Depth > 0 && member.Module.Panel.Depth > into.Depth + 1e-9))
            yield return string.Create(CultureInfo.InvariantCulture, $"{member.Name} is {1e3 * member.Module.Panel.Depth:0.#} mm deep and the case {1e3 * into.Depth:0.#} mm: it does not close");
    }

    private static IEnumerable<string> Rail(RailMargin rail)
    {
        if (rail.Left < 0)
            yield return string.Create(CultureInfo.InvariantCulture, $"{rail.Rail} gives {1e3 * rail.Limit:0} mA and {1e3 * rail.Amps:0} mA are asked for: the supply folds back; take a stronger one or fewer modules");
        else if (rail.Share < LeftOver)
            yield return string.Create(CultureInfo.InvariantCulture, $"{rail.Rail} has {100 * rail.Share:0} % left: a supply near its limit runs hot and lets go when it starts; keep 20 % free");
    }

    private static IEnumerable<string> Contacts(ImmutableArray<ContactLoad> contacts) =>
        contacts.Where(contact => contact.Amps > contact.Rating).Select(contact => string.Create(CultureInfo.InvariantCulture,
            $"{contact.Wire} carries {1e3 * contact.Amps:0} mA and is rated for {1e3 * contact.Rating:0} mA: it gets hot; feed the module by a lead of its own"));

    private static IEnumerable<string> Pin(string rail, string member, PinShare share)
    {
        if (!share.Passes)
            yield return string.Create(CultureInfo.InvariantCulture, $"{rail} into {member}: {1e3 * share.PerPin:0} mA through each of {share.Pins} contacts that are rated for {1e3 * share.Rating:0} mA: take more contacts or stronger ones");
        else if (!share.IsSafeAlone)
            yield return string.Create(CultureInfo.InvariantCulture, $"{rail} into {member}: {1e3 * share.Amps:0} mA pass only if {share.Pins} contacts share them evenly; one bad contact overloads the rest, and the sheet's derating for neighbours stands above this");
    }

    private static IEnumerable<string> Slots(ImmutableArray<SlotSupply> slots)
    {
        SlotSupply[] moved = [.. slots.Where(slot => Math.Abs(slot.PitchCents ?? 0) > MovedCents)];
        if (moved.Length == 0)
            yield break;
        SlotSupply worst = moved.MaxBy(slot => Math.Abs(slot.PitchCents!.Value))!;
        string drops = string.Join(", ", worst.DropVolts.OrderBy(drop => drop.Key, StringComparer.Ordinal).Select(drop => string.Create(CultureInfo.InvariantCulture, $"{drop.Key} {1e3 * drop.Value:0.00} mV lower")));
        yield return string.Create(CultureInfo.InvariantCulture, $"The supply's wiring moves {string.Join(", ", moved.Select(slot => slot.Member))} by up to {worst.PitchCents:+0.0;-0.0} cents ({worst.Member}: 0 V at {1e3 * worst.GroundVolts:+0.00;-0.00} mV{(drops.Length > 0 ? $", {drops}" : "")}): put them nearer to the supply, or use a heavier bus");
    }
}
