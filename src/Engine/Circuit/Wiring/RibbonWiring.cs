using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>
/// A ribbon from a lead's header along its followers' headers, wire by wire: copper from tap to tap, a contact at each
/// header, half of each length's capacitance at each of its ends, to the 0 V of the module there and to the
/// neighbouring wires. Wires that carry 0 V join the modules' own 0 V nets, so what flows back through them is real.
/// Left out: inductance, and coupling beyond the next wire.
/// </summary>
internal sealed class RibbonWiring
{
    private static readonly double Farads = Blank.Default("ribbon", "capacitance");
    private static readonly double Coupling = Blank.Default("ribbon", "coupling");

    private readonly Ribbon ribbon;
    private readonly Harness harness;
    private readonly Tap[] taps;
    private readonly int wires;
    private readonly HashSet<string> rails;

    private RibbonWiring(Ribbon ribbon, Voice voice, Harness harness)
    {
        this.ribbon = ribbon;
        this.harness = harness;
        taps = [.. ribbon.To.Prepend(ribbon.From).Select(name => TapOf(voice, name))];
        wires = taps.Min(tap => tap.Header.Terminals.Length);
        rails = [.. voice.Supply.Rails.Select(rail => rail.Name)];
    }

    /// <summary>Adds the ribbon's parts.</summary>
    public static void AddTo(Harness harness, Ribbon ribbon, Voice voice)
    {
        if (!ribbon.To.IsEmpty)
            new RibbonWiring(ribbon, voice, harness).Add();
    }

    /// <summary>The header of that name on that member; null when there is none.</summary>
    public static Part? Find(Voice voice, JackName name) =>
        voice
            .Members.FirstOrDefault(member => member.Name == name.Owner)
            ?.Module.Circuit.FirstOrDefault(part => part.Kind.Word == "header" && part.Texts["value"] == name.Label);

    private static Tap TapOf(Voice voice, JackName name) =>
        new(name, Find(voice, name) ?? throw new ArgumentException($"no header {name} in the voice"));

    private void Add()
    {
        double ohms = Copper.OhmsPerMetre(ribbon.Gauge) * ribbon.Length;
        for (int wire = 0; wire < wires; wire++)
            if (!IsOpenAll(wire))
                AddWire(wire, ohms);
        for (int place = 0; place < taps.Length; place++)
            AddCapacitances(place);
    }

    private void AddWire(int wire, double ohms)
    {
        Cause cause = CauseOf(taps[0].Header.Terminals[wire].Net);
        double rating = Math.Min(ContactRating.Socket, ContactRating.OfCrimp(ribbon.Gauge));
        double contact = taps[0].Header.Number("contact resistance"); // the lead's contact is in series with the first length
        for (int place = 1; place < taps.Length; place++)
        {
            JackName at = taps[place].Name;
            harness.Wire(
                $"{ribbon.From} wire {wire + 1} to {at}",
                ohms,
                contact,
                Node(place - 1, wire),
                Node(place, wire),
                cause,
                rating
            );
            if (!taps[place].IsOpen(wire))
                harness.Wire(
                    $"{ribbon.From} wire {wire + 1} into {at}",
                    0,
                    taps[place].Header.Number("contact resistance"),
                    Node(place, wire),
                    taps[place].Net(wire),
                    cause,
                    ContactRating.Socket
                );
            contact = 0;
        }
    }

    private void AddCapacitances(int place)
    {
        double length = ribbon.Length * (place == 0 || place == taps.Length - 1 ? 0.5 : 1);
        string ground = MemberParts.Net(taps[place].Name.Owner, CircuitDesign.Ground);
        string at = $"at {taps[place].Name}";
        for (int wire = 0; wire < wires; wire++)
        {
            if (IsOpenAll(wire))
                continue;
            if (taps[place].Net(wire) != ground)
                harness.Capacitor(
                    $"{ribbon.From} wire {wire + 1} capacitance {at}",
                    Farads * length,
                    Node(place, wire),
                    ground,
                    Cause.None
                );
            if (wire > 0 && !IsOpenAll(wire - 1) && taps[place].Net(wire) != taps[place].Net(wire - 1))
                harness.Capacitor(
                    $"{ribbon.From} wires {wire} and {wire + 1} coupling {at}",
                    Coupling * length,
                    Node(place, wire - 1),
                    Node(place, wire),
                    Cause.Link
                );
        }
    }

    // A wire that no header joins would float.
    private bool IsOpenAll(int wire) => Array.TrueForAll(taps, tap => tap.IsOpen(wire));

    private string Node(int place, int wire) =>
        place == 0 ? taps[0].Net(wire) : $"{ribbon.From} wire {wire + 1} at {taps[place].Name}";

    private Cause CauseOf(string net) =>
        net == CircuitDesign.Ground ? Cause.Ground
        : rails.Contains(net) ? Cause.Supply
        : Cause.Link;

    private readonly record struct Tap(JackName Name, Part Header)
    {
        public string Net(int wire) => MemberParts.Net(Name.Owner, Header.Terminals[wire].Net);

        /// <summary>True for a pin that is left open on purpose.</summary>
        public bool IsOpen(int wire) => Header.LeavesOpen(Header.Terminals[wire].Terminal);
    }
}
