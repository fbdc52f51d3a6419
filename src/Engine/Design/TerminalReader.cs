using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Reads which nets a part's terminals join.</summary>
/// <param name="name">The part's designator.</param>
/// <param name="kind">Its kind.</param>
/// <param name="uses">Where every use of a net is noted.</param>
/// <param name="errors">Where mistakes go.</param>
internal sealed class TerminalReader(string name, PartKind kind, List<NetUse> uses, ErrorList errors)
{
    /// <summary>The net word that leaves a terminal open on purpose.</summary>
    public const string Open = "open";

    private readonly Dictionary<string, string?> found = []; // terminal to net; null: left open
    private readonly List<Joint> free = [];
    private readonly HashSet<string> spoiled = [];

    /// <summary>How many places the free list has.</summary>
    public int FreeCount { get; private set; }

    /// <summary>True when the entry is a terminal or a list of terminals: it has been read.</summary>
    public bool Takes(YamlEntry entry)
    {
        if (kind.Terminals.Any(t => t.Word == entry.Key))
            Single(entry.Key, entry);
        else if (kind.Terminals.Where(t => t.List == entry.Key).Select(t => t.Word).ToArray() is { Length: > 0 } members)
            Listed(entry, members);
        else if (kind.FreeList == entry.Key)
            FreeList(entry);
        else
            return false;
        return true;
    }

    /// <summary>The joints in the kind's order; null, with errors, when a terminal is missing or wrong.</summary>
    public ImmutableArray<Joint>? Joints(SourceSpan at)
    {
        bool complete = spoiled.Count == 0;
        List<Joint> joints = [];
        foreach (TerminalSpec terminal in kind.Terminals)
            if (found.TryGetValue(terminal.Word, out string? net))
            {
                if (net is not null)
                    joints.Add(new(terminal.Word, net));
            }
            else if (terminal.Required && !spoiled.Contains(terminal.List ?? terminal.Word))
                complete &= Missing(terminal, at);
        if (kind.FreeList is { } list && free.Count == 0 && !spoiled.Contains(list))
        {
            errors.Add(ErrorCodes.MissingTerminal, at, $"{name}: a {kind.Word} needs its '{list}'", $"add '{list}: [net, net, ...]'");
            complete = false;
        }
        joints.AddRange(free);
        return complete ? [.. joints] : null;
    }

    /// <summary>A misspelt word stands for this terminal or list: it is not called missing as well.</summary>
    public void Excuse(string word) => spoiled.Add(word);

    private bool Missing(TerminalSpec terminal, SourceSpan at)
    {
        if (terminal.List is { } list && !spoiled.Add(list))
            return false; // one message for the whole list
        string example = terminal.List is null ? $"{terminal.Word}: net"
            : $"{terminal.List}: [{string.Join(", ", kind.Terminals.Where(t => t.List == terminal.List).Select(_ => "net"))}]";
        errors.Add(ErrorCodes.MissingTerminal, at, $"{name}: '{terminal.List ?? terminal.Word}' of this {kind.Word} joins no net",
            $"add '{example}'");
        return false;
    }

    private void Single(string terminal, YamlEntry entry)
    {
        if (Net(entry.Value, terminal, entry) is { } net)
            Join(terminal, net);
        else
            spoiled.Add(terminal);
    }

    private void Join(string terminal, YamlText net)
    {
        TerminalSpec? spec = kind.Terminals.FirstOrDefault(t => t.Word == terminal);
        string? joined = net.Value == Open ? spec is { Required: false } ? null : $"{name} {terminal}" : net.Value;
        if (joined is not null)
            uses.Add(new(joined, name, terminal, net.At, net.Value == Open || kind.Word is "header" or "power" or "voltage source"));
        if (spec is not null)
            found[terminal] = joined;
        else
            free.Add(new(terminal, joined!));
    }

    private void Listed(YamlEntry entry, string[] terminals)
    {
        if (entry.Value is not YamlList list || list.Items.Length != terminals.Length)
        {
            errors.Add(ErrorCodes.ListLength, entry.Value.At, $"{name}: '{entry.Key}' wants {terminals.Length} nets",
                $"write '{entry.Key}: [{string.Join(", ", terminals.Select(t => $"net of {t}"))}]'");
            spoiled.Add(entry.Key);
            return;
        }
        for (int i = 0; i < terminals.Length; i++)
            if (Net(list.Items[i], terminals[i], entry) is { } net)
                Join(terminals[i], net);
            else
                spoiled.Add(entry.Key);
    }

    private void FreeList(YamlEntry entry)
    {
        if (entry.Value is not YamlList { Items.Length: > 0 } list)
        {
            errors.Add(ErrorCodes.ListLength, entry.Value.At, $"{name}: '{entry.Key}' is a list of nets, one or more", $"write '{entry.Key}: [net, net, ...]'");
            spoiled.Add(entry.Key);
            return;
        }
        FreeCount = list.Items.Length;
        string singular = entry.Key.TrimEnd('s');
        for (int i = 0; i < list.Items.Length; i++)
            if (kind.Word == "ribbon")
                Wire(list.Items[i], $"{singular} {i + 1}", entry);
            else if (Net(list.Items[i], $"{singular} {i + 1}", entry) is { } net)
                Join($"{singular} {i + 1}", net);
            else
                spoiled.Add(entry.Key);
    }

    private void Wire(YamlNode item, string wire, YamlEntry entry)
    {
        if (item is YamlList { Items: [YamlText from, YamlText to] }
            && Net(from, $"{wire} from", entry) is { } a && Net(to, $"{wire} to", entry) is { } b)
        {
            Join($"{wire} from", a);
            Join($"{wire} to", b);
            return;
        }
        if (item is not YamlList { Items: [YamlText, YamlText] })
            errors.Add(ErrorCodes.ListLength, item.At, $"{name}: {wire} is not a pair of nets", $"write '{entry.Key}: [[net here, net there], ...]'");
        spoiled.Add(entry.Key);
    }

    private YamlText? Net(YamlNode node, string terminal, YamlEntry entry)
    {
        if (node is not YamlText { IsNothing: false, Value.Length: > 0 } net)
        {
            errors.Add(ErrorCodes.NoValue, node is YamlText ? entry.KeyAt : node.At, $"{name}: {terminal} names no net", $"write '{entry.Key}: net', or 'open'");
            return null;
        }
        if (net.Value.AsSpan().IndexOfAny('/', '[', ']') < 0)
            return net;
        errors.Add(ErrorCodes.BadName, net.At, $"{name}: {ErrorList.Quote(net.Value)} cannot name a net", "use letters, digits, spaces, + and -");
        return null;
    }
}
