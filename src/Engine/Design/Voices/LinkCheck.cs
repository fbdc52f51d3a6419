using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Judges ribbons: roles, wires, rings, and followers that nothing feeds.</summary>
internal sealed class LinkCheck
{
    private readonly ReadVoice read;
    private readonly ErrorList errors;
    private readonly Dictionary<string, Member> members;
    private readonly HashSet<string> rails;
    private readonly HashSet<string> fed;

    private LinkCheck(ReadVoice read, ErrorList errors)
    {
        this.read = read;
        this.errors = errors;
        members = read.Voice.Members.ToDictionary(member => member.Name);
        rails = [.. read.Voice.Supply.Rails.Select(rail => rail.Name)];
        fed = [.. read.Voice.Ribbons.SelectMany(ribbon => ribbon.To).Select(name => name.Owner)];
    }

    /// <summary>Reports what is wrong.</summary>
    public static void Run(ReadVoice read, ErrorList errors)
    {
        LinkCheck check = new(read, errors);
        check.CheckRoles();
        check.CheckTaken();
        check.CheckWires();
        check.FindRings();
        if (read.IsWhole)
            check.FindUnfed();
    }

    private void CheckRoles()
    {
        for (int i = 0; i < read.Voice.Ribbons.Length; i++)
        {
            Ribbon ribbon = read.Voice.Ribbons[i];
            string role = Role(ribbon.From);
            if (role == "follower" || (role == "through" && !fed.Contains(ribbon.From.Owner)))
                errors.Add(ErrorCodes.NotALead, read.RibbonsAt[i].From, $"{ribbon.From} is a header of role {role} and drives nothing",
                    "begin the ribbon at the lead's header, or give this one 'role: lead'");
            for (int k = 0; k < ribbon.To.Length; k++)
                if (Role(ribbon.To[k]) == "lead")
                    errors.Add(ErrorCodes.NotAFollower, read.RibbonsAt[i].To[k], $"{ribbon.To[k]} is a header of role lead: two would drive one ribbon",
                        "name a follower's header, or give this one 'role: follower'");
        }
    }

    private void CheckTaken()
    {
        Dictionary<JackName, int> taken = [];
        for (int i = 0; i < read.Voice.Ribbons.Length; i++)
        {
            Ribbon ribbon = read.Voice.Ribbons[i];
            Take(ribbon.From, i, read.RibbonsAt[i].From);
            for (int k = 0; k < ribbon.To.Length; k++)
                Take(ribbon.To[k], i, read.RibbonsAt[i].To[k]);
        }

        void Take(JackName header, int ribbon, SourceSpan at)
        {
            if (!taken.TryAdd(header, ribbon))
                errors.Add(ErrorCodes.HeaderTakenTwice, at,
                    $"{header} has a ribbon already, in line {read.Voice.Ribbons[taken[header]].At.Line}", "a header takes one ribbon: name it once");
        }
    }

    private void CheckWires()
    {
        for (int i = 0; i < read.Voice.Ribbons.Length; i++)
            for (int k = 0; k < read.Voice.Ribbons[i].To.Length; k++)
                CheckWires(read.Voice.Ribbons[i].From, read.Voice.Ribbons[i].To[k], read.RibbonsAt[i].To[k]);
    }

    private void CheckWires(JackName lead, JackName follower, SourceSpan at)
    {
        string[] a = Pins(lead);
        string[] b = Pins(follower);
        if (a.Length != b.Length)
            errors.Add(ErrorCodes.HeadersDisagree, at, $"{lead} has {a.Length} pins and {follower} has {b.Length}",
                "give both headers the same pins");
        for (int pin = 0; pin < Math.Min(a.Length, b.Length); pin++)
            if (!Header(lead).LeavesOpen($"pin {pin + 1}") && !Header(follower).LeavesOpen($"pin {pin + 1}") && !Agree(a[pin], b[pin], a, b))
                errors.Add(ErrorCodes.HeadersDisagree, at, $"pin {pin + 1} is '{a[pin]}' at {lead} and '{b[pin]}' at {follower}",
                    Array.IndexOf(b, a[pin]) is >= 0 and int there
                        ? $"{follower} has '{a[pin]}' at pin {there + 1}: put the pins in the same order"
                        : "give the pin the same net name in both modules");
    }

    // Where one side has 0 V the other may look at that ground under a name of its own.
    private bool Agree(string a, string b, string[] lead, string[] follower)
    {
        if (a == b)
            return true;
        if (a == CircuitDesign.Ground)
            return !rails.Contains(b) && !lead.Contains(b);
        return b == CircuitDesign.Ground && !rails.Contains(a) && !follower.Contains(a);
    }

    private void FindRings()
    {
        ILookup<string, string> onward = read
            .Voice.Ribbons.SelectMany(ribbon => ribbon.To.Select(to => (From: ribbon.From.Owner, To: to.Owner)))
            .ToLookup(pair => pair.From, pair => pair.To);
        for (int i = 0; i < read.Voice.Ribbons.Length; i++)
        {
            string lead = read.Voice.Ribbons[i].From.Owner;
            if (Reached(lead, onward).Contains(lead))
                errors.Add(ErrorCodes.RibbonLoop, read.RibbonsAt[i].From, $"{lead} is fed, along ribbons, by itself",
                    "take one of the ribbons away");
        }
    }

    private static HashSet<string> Reached(string start, ILookup<string, string> onward)
    {
        HashSet<string> reached = [];
        Stack<string> open = new(onward[start]);
        while (open.TryPop(out string? next))
            if (reached.Add(next))
                foreach (string further in onward[next])
                    open.Push(further);
        return reached;
    }

    private void FindUnfed()
    {
        foreach (Member member in read.Voice.Members)
        {
            bool hasHeader = Headers(member).Any(header => header.Texts["role"] == "follower");
            bool needsLink = member.Module.Pitch is { Control: null } || (hasHeader && member.Module.Pitch?.Control is null);
            if (needsLink && !fed.Contains(member.Name))
                errors.Add(ErrorCodes.FollowerUnfed, member.At, $"{member.Name} is a follower and no ribbon feeds it",
                    hasHeader ? $"add {member.Name} to the 'to' of its lead's ribbon" : "give the module a header of role follower and a ribbon to it");
        }
    }

    private static IEnumerable<Part> Headers(Member member) => member.Module.Circuit.Where(part => part.Kind.Word == "header");

    private Part Header(JackName name) => Headers(members[name.Owner]).First(part => part.Texts["value"] == name.Label);

    private string Role(JackName name) => Header(name).Texts["role"];

    private string[] Pins(JackName name) => [.. Header(name).Terminals.Select(joint => joint.Net)];
}
