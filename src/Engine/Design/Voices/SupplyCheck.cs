namespace Consort.Engine.Design;

/// <summary>Judges the supply: every rail that a module names is there, and every supply net and 0 V is reached.</summary>
internal sealed class SupplyCheck
{
    private const string Star = "supply"; // owner of the rails' own ends; no member can have this name

    private readonly ReadVoice read;
    private readonly ErrorList errors;
    private readonly HashSet<string> rails;
    private readonly Dictionary<(string, string), (string, string)> joined = [];

    private SupplyCheck(ReadVoice read, ErrorList errors)
    {
        this.read = read;
        this.errors = errors;
        rails = [.. read.Voice.Supply.Rails.Select(rail => rail.Name)];
    }

    private Voice Voice => read.Voice;

    /// <summary>Reports what is wrong.</summary>
    public static void Run(ReadVoice read, ErrorList errors)
    {
        SupplyCheck check = new(read, errors);
        check.FindUnknownRails();
        check.FindBuffersWithoutRails();
        if (!read.IsWhole)
            return;
        check.FindIdleRails();
        check.JoinAll();
        check.FindUnreached();
    }

    private void FindUnknownRails()
    {
        HashSet<(string, string)> told = [];
        foreach (Member member in Voice.Members)
        {
            foreach (Part part in Connectors(member))
                foreach (string rail in part.Terminals.Select(joint => joint.Net))
                    if (IsUnknown(rail) && told.Add((member.Module.Name, rail)))
                        errors.Add(ErrorCodes.UnknownRail, part.At, $"{part.Name}: the supply of '{Voice.Name}' has no rail '{rail}'",
                            Mend(rail));
            foreach (string rail in (member.Module.Sheet?.RailCurrents.Keys ?? []).Order(StringComparer.Ordinal))
                if (IsUnknown(rail) && told.Add((member.Module.Name, rail)))
                    errors.Add(ErrorCodes.UnknownRail, member.Module.At,
                        $"data sheet of '{member.Module.Name}': the supply of '{Voice.Name}' has no rail '{rail}'", Mend(rail));
        }
    }

    private bool IsUnknown(string rail) => rail != CircuitDesign.Ground && !rails.Contains(rail);

    private string Mend(string rail) =>
        NearName.Of(rail, rails) is { } near ? $"did you mean '{near}'?" : $"add '{rail}' to the supply's rails in the voice file";

    private void FindBuffersWithoutRails()
    {
        bool both = Voice.Supply.Rails.Any(rail => rail.Voltage > 0) && Voice.Supply.Rails.Any(rail => rail.Voltage < 0);
        foreach (Multiple multiple in Voice.Multiples.Where(multiple => multiple.Buffered && !both))
            errors.Add(ErrorCodes.NoRailsForBuffer, multiple.At, $"{multiple.Name}: the supply has no positive and negative rail for its buffers",
                "add the rails, or make it 'multiple: passive'");
    }

    private void FindIdleRails()
    {
        HashSet<string> used =
        [
            .. Voice.Members.SelectMany(Connectors).SelectMany(part => part.Terminals).Select(joint => joint.Net),
            .. Voice.Members.SelectMany(member => member.Module.Sheet?.RailCurrents.Keys ?? []),
        ];
        foreach (Rail rail in Voice.Supply.Rails.Where(rail => !used.Contains(rail.Name)))
            errors.Note(ErrorCodes.IdleRail, read.RailsAt[rail.Name], $"no module uses the rail '{rail.Name}'", "delete it, or see how modules spell it");
    }

    private void JoinAll()
    {
        foreach (Member member in Voice.Members)
        {
            foreach (string net in Connectors(member).SelectMany(part => part.Terminals).Select(joint => joint.Net))
                Join((member.Name, net), (Star, net));
            if (member.Module.Sheet is { RailCurrents.IsEmpty: false })
                Join((member.Name, CircuitDesign.Ground), (Star, CircuitDesign.Ground));
        }
        foreach (Cord cord in Voice.Cords)
            Join((Ground(cord.From.Owner), CircuitDesign.Ground), (Ground(cord.To.Owner), CircuitDesign.Ground));
        foreach (Ribbon ribbon in Voice.Ribbons)
            JoinRibbon(ribbon);
    }

    private void JoinRibbon(Ribbon ribbon)
    {
        Part[] headers = [.. ribbon.To.Prepend(ribbon.From).Select(Header)];
        string[] owners = [.. ribbon.To.Prepend(ribbon.From).Select(name => name.Owner)];
        for (int k = 1; k < headers.Length; k++)
            for (int pin = 0; pin < Math.Min(headers[0].Terminals.Length, headers[k].Terminals.Length); pin++)
                Join((owners[0], headers[0].Terminals[pin].Net), (owners[k], headers[k].Terminals[pin].Net));
    }

    private void FindUnreached()
    {
        foreach (Member member in Voice.Members)
        {
            if (!Reaches(member, CircuitDesign.Ground))
                errors.Add(ErrorCodes.GroundUnjoined, member.At, $"{member.Name}: nothing joins its 0 V to the supply",
                    "give the module a power connector with 0 V, or a ribbon wire that carries 0 V");
            foreach (Rail rail in Voice.Supply.Rails)
                if (Hangs(member.Module, rail.Name) && !Reaches(member, rail.Name))
                    errors.Add(ErrorCodes.RailUnfed, member.At, $"{member.Name}: parts hang on '{rail.Name}', which nothing brings to it",
                        "give the module a power connector with this rail, or a ribbon wire that carries it");
        }
    }

    // Parts hang on a net with the rail's name, and none of them makes it.
    private static bool Hangs(Module module, string rail)
    {
        Part[] parts =
        [
            .. module.Circuit.Where(part => part.Terminals.Any(joint => joint.Net == rail) && part.Kind.Word is not ("jack" or "header")),
        ];
        return parts.Length > 0
            && !parts.Any(part =>
                (part.Kind.Word is "regulator" or "reference" && part.NetAt("out") == rail) || part.Kind.Word == "voltage source"
            );
    }

    private bool Reaches(Member member, string net) => Root((member.Name, net)) == Root((Star, net));

    // A player's ground is the star point.
    private string Ground(string owner) => Voice.Players.Any(player => player.Name == owner) ? Star : owner;

    private static IEnumerable<Part> Connectors(Member member) => member.Module.Circuit.Where(part => part.Kind.Word == "power");

    private Part Header(JackName name) =>
        Voice
            .Members.First(member => member.Name == name.Owner)
            .Module.Circuit.First(part => part.Kind.Word == "header" && part.Texts["value"] == name.Label);

    private void Join((string, string) a, (string, string) b)
    {
        (a, b) = (Root(a), Root(b));
        if (a != b)
            joined[a] = b;
    }

    private (string, string) Root((string, string) net)
    {
        while (joined.TryGetValue(net, out (string, string) next))
            net = next;
        return net;
    }
}
