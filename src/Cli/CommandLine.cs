using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using System.CommandLine.Parsing;
using Consort.Cli.Verbs;
using Consort.Engine.Design;

namespace Consort.Cli;

/// <summary>The verbs, and what all of them share: help with an example, errors to the error writer, exit codes.</summary>
internal static class CommandLine
{
    private static readonly ParserConfiguration Plain = new() { ResponseFileTokenReplacer = null, EnablePosixBundling = false };

    /// <summary>Runs one verb.</summary>
    /// <returns>The exit code.</returns>
    public static async Task<int> Run(string[] arguments, Screen screen)
    {
        RootCommand root = Root(screen);
        ParseResult parsed = root.Parse(arguments, Plain);
        if (parsed.Errors.Count > 0 && parsed.Action is not HelpAction and not VerbHelp)
            return Complain(parsed, screen);
        if (parsed.CommandResult.Command == root && parsed.Action is null)
            return Complain(parsed, screen);
        using CancellationTokenSource ended = new();
        InvocationConfiguration invocation = new()
        {
            Output = screen.Output,
            Error = screen.Error,
            EnableDefaultExceptionHandler = false,
        };
        try
        {
            return await parsed.InvokeAsync(invocation, ended.Token);
        }
        catch (OperationCanceledException)
        {
            screen.Complain("consort: stopped");
            return Exit.Stopped;
        }
    }

    private static RootCommand Root(Screen screen)
    {
        IVerb[] verbs =
        [
            ProveVerb.Standard(screen),
            new ScopeVerb(screen, VoiceInput.ReadFolder),
            new ListenVerb(screen, DesignFolder.Read),
            new LockVerb(screen, VoiceInput.ReadFolder),
            new RespondVerb(screen, VoiceInput.ReadFolder),
            new SolveVerb(screen, CircuitFile.Read),
            new AffordVerb(screen),
            new RetuneVerb(screen),
            new PartsVerb(screen),
            new MeasureVerb(screen, VoiceInput.ReadFolder, TimeProvider.System),
            new TrimVerb(screen, DesignFolder.Read),
            new DiagnoseVerb(screen, DesignFolder.Read),
            new UnitsVerb(screen, VoiceInput.ReadFolder, folder => DesignFolder.Read(folder).Stock ?? Stock.Empty, TimeProvider.System),
            new PlanVerb(screen),
            new PanelVerb(screen),
            new PackVerb(screen),
            new OpenVerb(screen),
            new SchemaVerb(screen),
            new KindsVerb(screen),
        ];
        RootCommand root = new(
            "Proves from a folder of plain text whether several analog oscillators play as one voice: tracking in cents, "
                + "over temperature, and how many followers one lead can carry."
        );
        foreach (IVerb verb in verbs)
            root.Add(verb.Command());
        Dictionary<string, string> examples = verbs.ToDictionary(verb => verb.Command().Name, verb => verb.Example);
        foreach (HelpOption help in root.Options.OfType<HelpOption>())
            help.Action = new VerbHelp(examples);
        return root;
    }

    private static int Complain(ParseResult parsed, Screen screen)
    {
        Command command = parsed.CommandResult.Command;
        string name = command is RootCommand ? "consort" : $"consort {command.Name}";
        string[] unknown = [.. parsed.UnmatchedTokens.Select(word => $"'{word}' is not known here")];
        string[] messages = unknown.Length > 0 ? unknown : [.. parsed.Errors.Select(error => error.Message).Distinct()];
        bool isBare = command is RootCommand && unknown.Length == 0;
        foreach (string message in messages.Where(_ => !isBare))
            screen.Complain($"{name}: {message}");
        if (isBare)
            screen.Complain($"{name}: no verb given; one of {string.Join(", ", command.Subcommands.Select(verb => verb.Name))}");
        screen.Complain($"  mend: {name} --help shows what may stand here");
        return Exit.BadInput;
    }

    /// <summary>The library's help, then the verb's example and the exit codes.</summary>
    private sealed class VerbHelp(Dictionary<string, string> examples) : SynchronousCommandLineAction
    {
        private static readonly HelpAction Library = new();

        public override int Invoke(ParseResult parseResult)
        {
            Library.MaxWidth = Screen.PlainWidth;
            using StringWriter text = new();
            TextWriter output = parseResult.InvocationConfiguration.Output;
            parseResult.InvocationConfiguration.Output = text;
            Library.Invoke(parseResult);
            parseResult.InvocationConfiguration.Output = output;
            // A verb's part has the verb's examples.
            string name = (parseResult.CommandResult.Parent as CommandResult)?.Command is { } verb and not RootCommand ? verb.Name : parseResult.CommandResult.Command.Name;
            string example = examples.GetValueOrDefault(name) ?? "consort prove examples/quartet --report quartet.html";
            output.Write(text.ToString().ReplaceLineEndings("\n").TrimEnd() + "\n\n");
            output.Write($"Example:\n  {example.Replace("\n", "\n  ")}\n\n");
            output.Write("Exit codes:\n  0 done   1 a limit is missed   2 bad input   3 could not compute   130 stopped\n");
            return Exit.Done;
        }
    }
}
