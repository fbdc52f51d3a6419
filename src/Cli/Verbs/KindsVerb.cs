using System.CommandLine;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;
using Spectre.Console;

namespace Consort.Cli.Verbs;

/// <summary>kinds [KIND] [--json]: list the kinds of part, or one kind's terminals, parameters and models.</summary>
internal sealed class KindsVerb(Screen screen) : IVerb
{
    public string Example => "consort kinds \"op amp\"";

    public Command Command()
    {
        Argument<string?> word = new("KIND") { Description = "A kind's word, as 'resistor'; left out: list all.", Arity = ArgumentArity.ZeroOrOne };
        Option<bool> json = new("--json") { Description = "Print as JSON (docs/json.md)." };
        Command command = new("kinds", "List the kinds of part, their terminals, parameters, models and sources.") { word, json };
        command.SetAction(parsed => Run(parsed.GetValue(word), parsed.GetValue(json)));
        return command;
    }

    /// <summary>Prints all kinds, or one in full.</summary>
    public int Run(string? word, bool asJson)
    {
        PartKind? kind = word is null ? null : PartKinds.Find(word);
        if (word is not null && kind is null)
        {
            screen.Complain($"consort kinds: '{word}' is no kind of part\n  mend: {Mend(word)}");
            return Exit.BadInput;
        }
        if (asJson)
            screen.Line(Json(kind is null ? PartKinds.All : [kind]));
        else if (kind is null)
            PrintAll();
        else
            PrintOne(kind);
        return Exit.Done;
    }

    private static string Mend(string word) =>
        NearName.Of(word, PartKinds.All.Select(kind => kind.Word)) is { } near ? $"did you mean '{near}'?" : "consort kinds lists them";

    private void PrintAll()
    {
        Table table = Screen.Columns(("kind", false), ("what it is", false), ("terminals", false));
        table.Columns[0].NoWrap();
        foreach (PartKind kind in PartKinds.All)
            Screen.Row(table, kind.Word, kind.Meaning, TerminalWords(kind));
        screen.Write(table);
    }

    private static string TerminalWords(PartKind kind) =>
        string.Join(", ", [.. kind.Terminals.Select(terminal => terminal.List ?? terminal.Word).Distinct(), .. kind.FreeList is { } list ? [list] : Array.Empty<string>()]);

    private void PrintOne(PartKind kind)
    {
        screen.Line($"{kind.Word}: {kind.Meaning}");
        screen.Write(new Text($"model: {kind.Source}"));
        screen.Line($"main value: {MainText(kind)}");
        if (!kind.Terminals.IsEmpty || kind.FreeList is not null)
            screen.Line();
        Table terminals = Screen.Columns(("terminal", false), ("meaning", false));
        foreach (TerminalSpec terminal in kind.Terminals)
            Screen.Row(terminals, terminal.Word, terminal.Meaning + (terminal.Required ? "" : "; may stay open"));
        if (kind.FreeList is { } list)
            Screen.Row(terminals, $"{list}: [...]", "a list of nets, as many as it has");
        if (terminals.Rows.Count > 0)
            screen.Write(terminals);
        PrintParameters(kind);
        PrintModels(kind);
    }

    private void PrintModels(PartKind kind)
    {
        LibraryEntry[] models = [.. PartsLibrary.BuiltIn.All.Where(entry => entry.Kind == kind)];
        if (models.Length == 0)
            return;
        screen.Line();
        Table table = Screen.Columns(("model", false), ("values from", false));
        table.Columns[0].NoWrap();
        foreach (LibraryEntry model in models)
            Screen.Row(table, model.Name, model.Sheet);
        screen.Write(table);
    }

    private void PrintParameters(PartKind kind)
    {
        if (kind.Parameters.IsEmpty && kind.Texts.IsEmpty)
            return;
        screen.Line();
        Table table = Screen.Columns(("parameter", false), ("default", true), ("meaning", false));
        foreach (ParameterSpec parameter in kind.Parameters)
            Screen.Row(table, parameter.Word, DefaultText(parameter), parameter.Meaning + CauseText(parameter));
        foreach (TextSpec text in kind.Texts)
            Screen.Row(table, text.Word, text.Default ?? "required", text.Meaning + (text.Words.IsEmpty ? "" : $" ({string.Join(", ", text.Words)})"));
        screen.Write(table);
    }

    private static string CauseText(ParameterSpec parameter) =>
        parameter.Cause == Cause.None ? "" : $" [{parameter.Cause.ToString().ToLowerInvariant()}]";

    private static string DefaultText(ParameterSpec parameter) =>
        parameter.Default is not { } value ? "required"
        : double.IsNaN(value) ? "main value"
        : QuantityText.Write(value, parameter.Dimension);

    private static string MainText(PartKind kind) =>
        kind.Main switch
        {
            MainValue.Quantity => DimensionWords.Of(kind.ValueDimension!.Value).Name + ", as " + DimensionWords.Of(kind.ValueDimension!.Value).Example,
            MainValue.Model => "a model from the parts library, or 'ideal'",
            MainValue.Formula => "a formula of net voltages, time and temperature",
            MainValue.QuantityOrFormula => DimensionWords.Of(kind.ValueDimension!.Value).Name + ", or a formula",
            _ => "a word",
        };

    private static string Json(IReadOnlyList<PartKind> kinds) =>
        JsonText.Write(json =>
            json.Text("shape", "consort kinds").Number("version", 1).List("kinds", kinds, kind =>
            {
                json.Text("kind", kind.Word).Text("meaning", kind.Meaning).Text("source", kind.Source).Text("list", kind.FreeList);
                json.List("terminals", kind.Terminals, terminal =>
                    json.Text("terminal", terminal.Word).Text("meaning", terminal.Meaning).Flag("required", terminal.Required));
                json.List("parameters", kind.Parameters, parameter =>
                    json.Text("parameter", parameter.Word)
                        .Text("unit", SiUnits.Of(parameter.Dimension))
                        .Number("default", parameter.Default)
                        .Text("meaning", parameter.Meaning)
                        .Text("cause", parameter.Cause == Cause.None ? null : parameter.Cause.ToString().ToLowerInvariant()));
                json.List("models", PartsLibrary.BuiltIn.All.Where(entry => entry.Kind == kind), Model);
                json.List("texts", kind.Texts, text =>
                    json.Text("parameter", text.Word).Text("default", text.Default).Texts("words", text.Words).Text("meaning", text.Meaning));

                void Model(LibraryEntry model) =>
                    json.Text("model", model.Name).Text("source", model.Sheet).Object("values", () =>
                    {
                        foreach ((string word, double value) in model.Numbers.OrderBy(number => number.Key, StringComparer.Ordinal))
                            json.Number(word, value);
                    });
            })
        );
}
