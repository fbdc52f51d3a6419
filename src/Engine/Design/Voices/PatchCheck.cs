namespace Consort.Engine.Design;

/// <summary>Judges cords and multiples: who drives whom.</summary>
internal sealed class PatchCheck
{
    private readonly ReadVoice read;
    private readonly ErrorList errors;
    private readonly JackBook book;
    private readonly Dictionary<JackName, int> plugged = []; // jack to cord
    private readonly Dictionary<JackName, JackName> joined = [];
    private readonly Dictionary<JackName, List<JackName>> sources = []; // by root

    private PatchCheck(ReadVoice read, ErrorList errors)
    {
        this.read = read;
        this.errors = errors;
        book = new(read.Voice.Members, read.Voice.Players, read.Voice.Multiples);
    }

    private Voice Voice => read.Voice;

    /// <summary>Reports what is wrong.</summary>
    public static void Run(ReadVoice read, ErrorList errors)
    {
        PatchCheck check = new(read, errors);
        for (int cord = 0; cord < read.Voice.Cords.Length; cord++)
            check.Plug(cord);
        LoopCheck.Run(check.Flows(), read, errors);
        if (!read.IsWhole)
            return;
        check.FindUndriven();
        check.FindFreePitchJacks();
        check.FindIdle();
        check.FindPitchPlayer();
    }

    private void Plug(int number)
    {
        Cord cord = Voice.Cords[number];
        CordAt at = read.CordsAt[number];
        bool first = Take(cord.From, number, at.From);
        if (!(Take(cord.To, number, at.To) && first))
            return;
        JackName a = Root(Node(cord.From));
        JackName b = Root(Node(cord.To));
        if (a == b)
            errors.Add(ErrorCodes.CordLoop, at.To, $"the cord from {cord.From} to {cord.To} closes a loop: both ends are joined already",
                "take this cord away");
        else
            Join(a, b, cord, at);
    }

    private bool Take(JackName jack, int number, SourceSpan at)
    {
        if (plugged.TryAdd(jack, number))
            return true;
        bool drives = book.Face(jack) == JackFace.Output;
        errors.Add(drives ? ErrorCodes.JackTakenTwice : ErrorCodes.TwoSources, at,
            $"{jack} has a plug already: the cord in line {Voice.Cords[plugged[jack]].At.Line}",
            drives ? "feed several inputs through a multiple" : "a jack takes one plug: sum the two before it, or take one away");
        return false;
    }

    private void Join(JackName a, JackName b, Cord cord, CordAt at)
    {
        List<JackName> left = SourcesOf(a);
        List<JackName> right = SourcesOf(b);
        if (left.Count > 0 && right.Count > 0)
        {
            bool direct = left[0] == cord.From && right[0] == cord.To;
            errors.Add(direct ? ErrorCodes.OutputToOutput : ErrorCodes.TwoSources, at.To,
                direct ? $"{cord.From} and {cord.To} are both outputs" : $"this cord joins two sources: {left[0]} and {right[0]}",
                direct ? "plug one end into an input" : "take one of them away, or sum them in a module");
        }
        joined[a] = b;
        right.AddRange(left);
    }

    private void FindUndriven()
    {
        HashSet<JackName> told = [];
        for (int i = 0; i < Voice.Cords.Length; i++)
        {
            JackName root = Root(Node(Voice.Cords[i].From));
            if (SourcesOf(root).Count == 0 && told.Add(root))
                errors.Add(ErrorCodes.NoSource, read.CordsAt[i].From, $"nothing drives {Voice.Cords[i].From} and what is joined to it",
                    "plug an output into it: jacks of players, outputs, ways of buffered multiples");
        }
    }

    private void FindFreePitchJacks()
    {
        foreach (Member member in Voice.Members)
        {
            if (member.Module.Pitch?.Control is not { } control || plugged.ContainsKey(new(member.Name, control)))
                continue;
            Part? jack = member.Module.Circuit.FirstOrDefault(part =>
                part.Kind.Word == "jack" && part.Texts["label"] == control
            );
            if (jack is null)
                continue; // a mistake in the module, told there
            if (jack.NetAt("normal") is { } normal)
                errors.Note(ErrorCodes.PitchUnfed, member.At,
                    $"{member.Name}: nothing is plugged into '{control}'; it stands at its normal, '{normal}'",
                    $"add a cord to {member.Name}/{control}");
            else
                errors.Add(ErrorCodes.PitchUnfed, member.At, $"{member.Name}: nothing is plugged into '{control}', which carries its pitch",
                    $"add a cord to {member.Name}/{control}");
        }
    }

    private void FindIdle()
    {
        HashSet<string> used = [.. plugged.Keys.Select(jack => jack.Owner)];
        foreach (Player player in Voice.Players.Where(player => !used.Contains(player.Name)))
            errors.Note(ErrorCodes.IdlePatch, player.Where, $"{player.Name} plays nothing", $"add a cord from {player.Name}/out");
        foreach (Multiple multiple in Voice.Multiples.Where(multiple => !used.Contains(multiple.Name)))
            errors.Note(ErrorCodes.IdlePatch, multiple.At, $"nothing is plugged into {multiple.Name}", "add its cords, or delete it");
    }

    private void FindPitchPlayer()
    {
        bool hasOscillator = Voice.Members.Any(member => member.Module.Pitch is not null);
        if (hasOscillator && !Voice.Players.Any(player => player.IsPitch))
            errors.Add(ErrorCodes.NoPitchPlayer, Voice.Members[0].At, "no player carries the keyboard's voltage",
                "add 'keyboard: {plays: pitch, resistance: 1k, from: 0 V, to: 9 V}' to the players");
    }

    // From each source to each input on its net of cords.
    private IEnumerable<LoopCheck.Flow> Flows()
    {
        for (int i = 0; i < Voice.Cords.Length; i++)
            foreach (JackName sink in new[] { Voice.Cords[i].From, Voice.Cords[i].To })
                if (book.Face(sink) == JackFace.Input)
                    foreach (JackName source in SourcesOf(Root(Node(sink))))
                        yield return new(source, sink, read.CordsAt[i].To);
    }

    // All jacks of a passive multiple are one.
    private JackName Node(JackName jack) => book.Face(jack) == JackFace.Shared ? new(jack.Owner, "") : jack;

    private JackName Root(JackName node)
    {
        while (joined.TryGetValue(node, out JackName next))
            node = next;
        return node;
    }

    private List<JackName> SourcesOf(JackName root)
    {
        if (!sources.TryGetValue(root, out List<JackName>? list))
            sources[root] = list = book.Face(root) == JackFace.Output ? [root] : [];
        return list;
    }
}
