using System.Collections.Immutable;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Planning;

/// <summary>What a rail gives and has left.</summary>
/// <param name="Rail">Its name.</param>
/// <param name="Amps">Drawn at rest.</param>
/// <param name="Limit">What it can give, A.</param>
/// <param name="Inrush">At switching on.</param>
public sealed record RailMargin(string Rail, double Amps, double Limit, Inrush Inrush)
{
    /// <summary>What is left, A; below zero when it is overdrawn.</summary>
    public double Left => Limit - Amps;

    /// <summary>The same as a share of the limit.</summary>
    public double Share => Left / Limit;
}

/// <summary>How a rail's current is shared by the contacts of a plug.</summary>
/// <param name="Amps">Of the rail in this plug.</param>
/// <param name="Pins">Contacts side by side.</param>
/// <param name="Rating">What one may carry when it is the only one that is loaded, A.</param>
public sealed record PinShare(double Amps, int Pins, double Rating)
{
    /// <summary>If all share evenly, A.</summary>
    public double PerPin => Amps / Pins;

    /// <summary>No contact is over its rating as long as they share evenly.</summary>
    public bool Passes => PerPin <= Rating * (1 + 1e-12);

    /// <summary>One contact alone could carry it all: nothing rests on how they share.</summary>
    public bool IsSafeAlone => Amps <= Rating * (1 + 1e-12);
}

/// <summary>What a module has of the supply in its slot.</summary>
/// <param name="Member">The module.</param>
/// <param name="Row">From 0.</param>
/// <param name="DropVolts">By rail: what it gets less than the supply gives unloaded, between rail and its own 0 V.</param>
/// <param name="GroundVolts">Of its own 0 V against the star point: it adds to every control voltage.</param>
/// <param name="PitchCents">Largest change of its pitch by all this, signed; null when it is no oscillator.</param>
public sealed record SlotSupply(string Member, int Row, ImmutableDictionary<string, double> DropVolts, double GroundVolts, double? PitchCents);

/// <summary>Whether a wired voice fits its case and supply.</summary>
/// <param name="Rails">By rail.</param>
/// <param name="Slots">By module, in the order of the bus.</param>
/// <param name="Contacts">Of power plugs and ribbons, the fullest first.</param>
/// <param name="Pins">By rail, of the plug that carries most of it.</param>
/// <param name="Warnings">What does not fit, why, and what to do.</param>
public sealed record CaseCheck(
    ImmutableArray<RailMargin> Rails,
    ImmutableArray<SlotSupply> Slots,
    ImmutableArray<ContactLoad> Contacts,
    ImmutableArray<(string Rail, string Member, PinShare Share)> Pins,
    ImmutableArray<string> Warnings
)
{
    /// <summary>The rail with the least left.</summary>
    public RailMargin Tightest => Rails.MinBy(rail => rail.Share)!;

    /// <summary>The slot whose pitch the supply moves most; null without oscillators.</summary>
    public SlotSupply? MostMoved => Slots.Where(slot => slot.PitchCents is not null).MaxBy(slot => Math.Abs(slot.PitchCents!.Value));

    /// <summary>Reads it off a voice at rest in the middle of its keyboard.</summary>
    /// <param name="played">The voice.</param>
    /// <param name="rest">Where it rests.</param>
    /// <param name="places">Where everything stands.</param>
    /// <param name="into">The case.</param>
    /// <param name="bus">By oscillator: what the supply's resistances do to its pitch, cents.</param>
    /// <param name="further">Current from every rail that the circuit does not hold, A.</param>
    internal static CaseCheck Of(PlayedVoice played, RestState rest, ImmutableArray<RowPlace> places, RackCase into, ImmutableDictionary<string, double> bus, double further)
    {
        Voice voice = played.Voice;
        ImmutableArray<RailLoad> loads = SupplyLoad.Read(voice, played.Circuit, rest);
        ImmutableArray<RailMargin> rails = [.. voice.Supply.Rails.Select((rail, i) => new RailMargin(rail.Name, loads[i].Amps + further, rail.Limit, Inrush.Of(voice, rail)))];
        ImmutableArray<SlotSupply> slots = [.. voice.Members.Select(member => Slot(played, rest, member, places, bus))];
        ImmutableArray<ContactLoad> contacts = SupplyLoad.ReadContacts(played.Circuit, rest);
        ImmutableArray<(string, string, PinShare)> pins = [.. voice.Supply.Rails.Select(rail => Fullest(voice, rail.Name, contacts, into)).OfType<(string, string, PinShare)>()];
        return new(rails, slots, contacts, pins, CaseWarnings.Of(voice, places, into, rails, slots, contacts, pins));
    }

    private static SlotSupply Slot(PlayedVoice played, RestState rest, Member member, ImmutableArray<RowPlace> places, ImmutableDictionary<string, double> bus)
    {
        double ground = At(CircuitDesign.Ground) ?? 0;
        ImmutableDictionary<string, double> drops = played.Voice.Supply.Rails
            .Select(rail => (rail.Name, Drop: At(rail.Name) is { } volts ? Math.Abs(rail.Voltage) - Math.Abs(volts - ground) : double.NaN))
            .Where(pair => !double.IsNaN(pair.Drop))
            .ToImmutableDictionary(pair => pair.Name, pair => pair.Drop);
        return new(member.Name, places.First(place => place.Name == member.Name).Row, drops, ground, bus.TryGetValue(member.Name, out double cents) ? cents : null);

        double? At(string net) => played.Circuit.Nets.TryGetValue(MemberParts.Net(member.Name, net), out int row) ? rest.X[row] : null;
    }

    private static (string Rail, string Member, PinShare Share)? Fullest(Voice voice, string rail, ImmutableArray<ContactLoad> contacts, RackCase into)
    {
        (string Member, double Amps)[] plugs =
        [
            .. voice.Members.SelectMany(member => SupplyWiring.Taps(member).Where(tap => tap.Rail == rail)
                .SelectMany(tap => contacts.Where(contact => contact.Wire == tap.Name).Select(contact => (member.Name, contact.Amps)))),
        ];
        return plugs.Length == 0 ? null : (rail, plugs.MaxBy(plug => plug.Amps).Member, new(plugs.Max(plug => plug.Amps), into.Pins, into.PinAmps));
    }
}
