using Consort.Engine.Design;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Voice;

/// <summary>Adds a part to a module, like one that is there.</summary>
public sealed partial class PartAdder
{
    private readonly Dictionary<string, string> asked = new(StringComparer.Ordinal); // by word, what is to stand there instead
    private string like = "";
    private string name = "";

    /// <summary>The module's file.</summary>
    [Parameter, EditorRequired]
    public string File { get; set; } = "";

    /// <inheritdoc/>
    protected override bool Differs(SessionState drawn, SessionState now) => drawn.Texts.Find(File) != now.Texts.Find(File);

    private SourceText? Source => Session.State.Texts.Find(File);

    private YamlMap? Circuit => Source is { } source ? PartText.Circuit(source) : null;

    private YamlMap? Model => Circuit?.Find(like)?.Value as YamlMap;

    private string? Kind => Model is { Entries: [var first, ..] } ? first.Key : null;

    private bool IsTaken => Circuit?.Find(name.Trim()) is not null;

    private string? Text => Source is { } source && name.Trim().Length > 0 && asked.Values.All(text => text.Length > 0) ? PartText.More(source, like, name.Trim(), asked) : null;

    private static string Words(YamlEntry entry) => entry.Value is YamlMap { Entries: [{ Value: YamlText value } kind, ..] } ? $"{kind.Key} {value.Value}" : "";

    private void Choose(ChangeEventArgs change)
    {
        like = $"{change.Value}";
        name = Circuit is { } circuit && like.Length > 0 ? PartText.NextName(circuit.Entries.Select(entry => entry.Key), like) : "";
        asked.Clear();
    }

    private void Ask(string word, ChangeEventArgs change) => asked[word] = $"{change.Value}".Trim();

    private void Add()
    {
        if (Text is not { } text)
            return;
        Session.Rewrite(File, text);
        (like, name) = ("", "");
        asked.Clear();
    }
}
