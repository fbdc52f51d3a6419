using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents.Panels;

namespace Consort.Cli.Verbs;

/// <summary>panel VOICE [--module NAME] [--out FOLDER] [--copper free|filled] [--json]: check and draw the panels.</summary>
internal sealed class PanelVerb(Screen screen) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, string? Module = null, string? Into = null, bool Filled = false, bool Json = false);

    public string Example => "consort panel examples/quartet --out panels\nconsort panel examples/quartet --module quartet-lead --copper filled --out panels";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<string?> module = new("--module") { Description = "Only this module's panel, by the name of its file or its own.", HelpName = "NAME" };
        Option<string?> into = new("--out") { Description = "Write drawings (SVG, PDF, DXF) and files for manufacture (Gerber, XNC) into this folder.", HelpName = "FOLDER" };
        Option<string> copper = new("--copper") { Description = "Copper on both sides of the board: none, or all over.", HelpName = "free|filled", DefaultValueFactory = _ => "free" };
        copper.AcceptOnlyFromAmong("free", "filled");
        Option<bool> json = new("--json") { Description = "Print sizes, holes and findings as JSON (docs/json.md) instead of tables." };
        Command command = new("panel", "Check the panels as a hand and a drill would, and draw them at scale and for manufacture.") { folder, module, into, copper, json };
        command.SetAction(parsed => Run(new(
            parsed.GetRequiredValue(folder),
            parsed.GetValue(module),
            parsed.GetValue(into),
            parsed.GetValue(copper) == "filled",
            parsed.GetValue(json)
        )));
        return command;
    }

    /// <summary>Reads, checks, writes the files, prints.</summary>
    public int Run(Request request)
    {
        (Voice? voice, _, ImmutableArray<InputError> errors) = DesignFolder.Read(request.Folder);
        screen.Complain(errors);
        if (voice is null)
            return Exit.BadInput;
        PanelSet? set = Chosen(PanelSet.Of(voice, file => DesignFolder.Source(request.Folder, file)), request.Module);
        if (set is null)
            return Exit.BadInput;
        screen.Complain(DesignFolder.FromHere(request.Folder, [.. set.Without, .. set.Panels.SelectMany(panel => panel.Findings)]));
        if (set.Panels.IsEmpty)
            return Exit.BadInput;
        ImmutableArray<(string Name, byte[] Content)> files = request.Into is null ? [] : PanelFiles.Of(set, voice.Name, request.Filled);
        foreach ((string name, byte[] content) in files)
            if (!screen.Wrote(Path.Combine(request.Into!, name), () => Write(request.Into!, name, content)))
                return Exit.BadInput;
        if (request.Json)
            screen.Line(PanelJson.Write(set, voice.Name, [.. files.Select(file => file.Name)]));
        else
            PanelTables.Print(screen, set, request.Into, [.. files.Select(file => file.Name)]);
        return set.Panels.All(panel => panel.Passes) ? Exit.Done : Exit.LimitMissed;
    }

    private static void Write(string folder, string name, byte[] content)
    {
        Directory.CreateDirectory(folder);
        WholeFile.Write(Path.Combine(folder, name), content);
    }

    private PanelSet? Chosen(PanelSet set, string? module)
    {
        if (module is null)
            return set;
        string[] known = [.. set.Panels.Select(panel => panel.Drawing.File)];
        if (set.Panels.Where(panel => panel.Drawing.File == module || panel.Drawing.Name == module).ToImmutableArray() is { IsEmpty: false } chosen)
            return set with { Panels = chosen, Without = [] };
        screen.Complain($"consort panel: there is no panel to draw of '{module}'\n  mend: {(known.Length == 0 ? "give the modules' panels places" : NearName.Mend(module, known))}");
        return null;
    }
}
