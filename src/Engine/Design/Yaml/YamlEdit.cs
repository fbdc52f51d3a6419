using System.Text;

namespace Consort.Engine.Design;

/// <summary>
/// Changes single values of a file and leaves every other character as it is: comments, order, spacing, line ends.
/// </summary>
/// <param name="source">The text that the nodes were read from.</param>
public sealed class YamlEdit(SourceText source)
{
    private static readonly System.Buffers.SearchValues<char> FlowMarks = System.Buffers.SearchValues.Create(",[]{}:");

    private readonly List<(int Start, int End, string Text)> changes = [];

    /// <summary>Puts another text in a value's place; a quoted one stays quoted.</summary>
    /// <param name="inFlow">True inside braces or brackets, where a comma ends a text.</param>
    public void Replace(YamlText value, string text, bool inFlow)
    {
        string written = value.Quoted ? Quoted(text) : Scalar(text, inFlow);
        bool needsSpace = value.IsNothing && value.Start > 0 && source.Text[value.Start - 1] == ':';
        changes.Add((value.Start, value.End, needsSpace ? " " + written : written));
    }

    /// <summary>Adds an entry at the end of a map, in the map's own style.</summary>
    public void Add(YamlMap map, string key, string text)
    {
        if (map.Flow)
            AddToFlow(map, $"{Scalar(key, true)}: {Scalar(text, true)}");
        else
            AddToBlock(map, $"{Scalar(key, false)}: {Scalar(text, false)}");
    }

    /// <summary>Sets an entry of a map: replaces its text when it is there, adds it when it is not.</summary>
    /// <exception cref="InvalidOperationException">The entry holds a list or a map: a mistake in our own code.</exception>
    public void Set(YamlMap map, string key, string text)
    {
        if (map.Find(key) is not { } entry)
            Add(map, key, text);
        else if (entry.Value is YamlText value)
            Replace(value, text, map.Flow);
        else
            throw new InvalidOperationException($"'{key}' is {entry.Value.Shape}");
    }

    /// <summary>Adds an entry after another one, in the map's own style.</summary>
    /// <param name="after">The entry that it follows.</param>
    /// <param name="value">What it holds; lists and maps are written in brackets and braces.</param>
    public void AddAfter(YamlMap map, YamlEntry after, string key, YamlNode value)
    {
        int at = Math.Max(after.Name.End, Last(after.Value));
        if (map.Flow)
            changes.Add((at, at, $", {Scalar(key, true)}: {InLine(value)}"));
        else
            AddLine(at, after.KeyAt.Column, $"{Scalar(key, false)}: {InLine(value)}");
    }

    /// <summary>Adds a text after an item of a list, in the list's own style.</summary>
    public void AddAfter(YamlList list, int item, string text)
    {
        int at = Last(list.Items[item]);
        if (list.Flow)
            changes.Add((at, at, $", {Scalar(text, true)}"));
        else
            AddLine(at, list.Items[item].At.Column - 2, $"- {Scalar(text, false)}");
    }

    /// <summary>Adds a map of texts, in braces, after an item of a list, in the list's own style.</summary>
    public void AddAfter(YamlList list, int item, params ReadOnlySpan<(string Key, string Text)> entries)
    {
        int at = Last(list.Items[item]);
        if (list.Flow)
            changes.Add((at, at, $", {InLine(entries)}"));
        else
            AddLine(at, list.Items[item].At.Column - 2, $"- {InLine(entries)}");
    }

    /// <summary>Adds a map of texts, in braces, after an entry of a map, in the map's own style.</summary>
    public void AddAfter(YamlMap map, YamlEntry after, string key, params ReadOnlySpan<(string Key, string Text)> entries)
    {
        int at = Math.Max(after.Name.End, Last(after.Value));
        if (map.Flow)
            changes.Add((at, at, $", {Scalar(key, true)}: {InLine(entries)}"));
        else
            AddLine(at, after.KeyAt.Column, $"{Scalar(key, false)}: {InLine(entries)}");
    }

    /// <summary>Begins a list at the end of a block map, with a map of texts as its first item.</summary>
    public void AddList(YamlMap map, string key, params ReadOnlySpan<(string Key, string Text)> entries)
    {
        AddLine(LastEnd(map), map.Entries[0].KeyAt.Column, $"{Scalar(key, false)}:");
        AddLine(LastEnd(map), map.Entries[0].KeyAt.Column + 2, $"- {InLine(entries)}");
    }

    /// <summary>Makes a list of a text that stood alone, with another after it.</summary>
    public void AddAfter(YamlText alone, string text) =>
        changes.Add((alone.Start, alone.End, $"[{(alone.Quoted ? Quoted(alone.Value) : Scalar(alone.Value, true))}, {Scalar(text, true)}]"));

    /// <summary>Takes an entry away; one of a block goes with its lines.</summary>
    public void Remove(YamlMap map, YamlEntry entry) =>
        Remove(map.Flow, map.Entries.IndexOf(entry), [.. map.Entries.Select(one => (one.Name.Start, Math.Max(one.Name.End, Last(one.Value))))]);

    /// <summary>Takes an item away; one of a block goes with its lines.</summary>
    public void Remove(YamlList list, int item) => Remove(list.Flow, item, [.. list.Items.Select(one => (one.Start, Last(one)))]);

    private void Remove(bool isFlow, int one, (int Start, int End)[] all)
    {
        if (!isFlow)
            changes.Add((LineStart(all[one].Start), NextLine(all[one].End), ""));
        else if (one > 0)
            changes.Add((all[one - 1].End, all[one].End, ""));
        else
            changes.Add((all[0].Start, all.Length > 1 ? all[1].Start : all[0].End, ""));
    }

    private int LineStart(int at)
    {
        while (at > 0 && source.Text[at - 1] is not ('\n' or '\r'))
            at--;
        return at;
    }

    private int NextLine(int at)
    {
        if (at > 0 && source.Text[at - 1] is '\n' or '\r')
            return at; // a block text ends with its line
        while (at < source.Text.Length && source.Text[at] is not ('\n' or '\r'))
            at++;
        return Math.Min(source.Text.Length, at + (source.Text.AsSpan(at).StartsWith("\r\n", StringComparison.Ordinal) ? 2 : 1));
    }

    private static string InLine(ReadOnlySpan<(string Key, string Text)> entries)
    {
        StringBuilder line = new("{");
        foreach ((string key, string text) in entries)
            line.Append(line.Length == 1 ? "" : ", ").Append(Scalar(key, true)).Append(": ").Append(Scalar(text, true));
        return line.Append('}').ToString();
    }

    private static string InLine(YamlNode node) =>
        node switch
        {
            YamlText text => text.Quoted ? Quoted(text.Value) : Scalar(text.Value, true),
            YamlList list => $"[{string.Join(", ", list.Items.Select(InLine))}]",
            YamlMap map => $"{{{string.Join(", ", map.Entries.Select(entry => $"{Scalar(entry.Key, true)}: {InLine(entry.Value)}"))}}}",
            _ => throw new ArgumentException($"no way to write {node.Shape}"),
        };

    /// <summary>The text with all changes.</summary>
    public string Result()
    {
        StringBuilder result = new();
        int at = 0;
        foreach ((int start, int end, string text) in changes.OrderBy(change => change.Start))
        {
            if (start < at)
                throw new InvalidOperationException("two changes of one place");
            result.Append(source.Text, at, start - at).Append(text);
            at = end;
        }
        return result.Append(source.Text, at, source.Text.Length - at).ToString();
    }

    /// <summary>Writes the changed text in the file's place, whole.</summary>
    public void WriteTo(string path) => WholeFile.Write(path, Result(), source.HadByteOrderMark);

    private void AddToFlow(YamlMap map, string entry)
    {
        int at = map.Entries.IsEmpty ? map.Start + 1 : LastEnd(map);
        changes.Add((at, at, map.Entries.IsEmpty ? entry : $", {entry}"));
    }

    private void AddToBlock(YamlMap map, string entry) => AddLine(LastEnd(map), map.Entries[0].KeyAt.Column, entry);

    private void AddLine(int after, int column, string text)
    {
        int at = after;
        bool afterLine = at > 0 && source.Text[at - 1] is '\n' or '\r'; // a block text ends with its line
        while (!afterLine && at < source.Text.Length && source.Text[at] is not ('\n' or '\r'))
            at++;
        string lineEnd = source.Text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
        string line = new string(' ', column - 1) + text;
        changes.Add((at, at, afterLine ? line + lineEnd : lineEnd + line));
    }

    // Where the last entry ends; a block map's own end may lie after comments that belong to what follows.
    private static int LastEnd(YamlMap map) => Math.Max(map.Entries[^1].Name.End, Last(map.Entries[^1].Value));

    private static int Last(YamlNode node) =>
        node switch
        {
            YamlMap { Flow: false, Entries: [.., var last] } => Math.Max(last.Name.End, Last(last.Value)),
            YamlList { Flow: false, Items: [.., var last] } => Last(last),
            _ => node.End,
        };

    private static string Scalar(string text, bool inFlow) => IsPlain(text, inFlow) ? text : Quoted(text);

    private static bool IsPlain(string text, bool inFlow)
    {
        if (text.Length == 0 || text != text.Trim() || text.Any(char.IsControl))
            return false;
        bool startsLikeOther = "?:,[]{}#&*!|>'\"%@`".Contains(text[0], StringComparison.Ordinal) || (text[0] == '-' && (text.Length == 1 || text[1] is ' ' or '-'));
        bool hasOther = text.Contains(": ", StringComparison.Ordinal) || text.EndsWith(':') || text.Contains(" #", StringComparison.Ordinal);
        return !startsLikeOther && !hasOther && !(inFlow && text.AsSpan().ContainsAny(FlowMarks));
    }

    private static string Quoted(string text)
    {
        StringBuilder quoted = new("\"");
        foreach (char c in text)
            quoted.Append(c switch
            {
                '"' => "\\\"",
                '\\' => "\\\\",
                '\n' => "\\n",
                '\r' => "\\r",
                '\t' => "\\t",
                _ => c.ToString(),
            });
        return quoted.Append('"').ToString();
    }
}
