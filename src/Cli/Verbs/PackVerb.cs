using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Documents.Files;
using Consort.Engine.Documents.Packs;
using Consort.Engine.Documents.Panels;
using Consort.Engine.Pitch;

namespace Consort.Cli.Verbs;

/// <summary>pack VOICE [--out FOLDER] [--copper free|filled] [--json]: all that a builder needs, in one folder and zip.</summary>
internal sealed class PackVerb(Screen screen) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, string? Into = null, bool Filled = false, bool Json = false);

    public string Example => "consort pack examples/quartet --out quartet-pack";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<string?> into = new("--out") { Description = "The pack's folder, made anew; the zip stands beside it. Not given: the voice's name and '-pack'.", HelpName = "FOLDER" };
        Option<string> copper = new("--copper") { Description = "Copper on both sides of the panels' boards: none, or all over.", HelpName = "free|filled", DefaultValueFactory = _ => "free" };
        copper.AcceptOnlyFromAmong("free", "filled");
        Option<bool> json = new("--json") { Description = "Print the files and what they say of first power-up and trims as JSON (docs/json.md)." };
        Command command = new("pack", "Write a building guide (PDF), drawings, files for manufacture, parts and the design, as folder and zip.") { folder, into, copper, json };
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(parsed.GetRequiredValue(folder), Folder(parsed.GetValue(into)), parsed.GetValue(copper) == "filled", parsed.GetValue(json));
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    // Who names the zip means the folder beside it.
    private static string? Folder(string? into) => into is { Length: > 4 } && into.EndsWith(".zip", StringComparison.OrdinalIgnoreCase) ? into[..^4] : into;

    /// <summary>Reads, computes, writes, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = DesignFolder.Read(request.Folder);
        screen.Complain(errors);
        if (voice is null || stock is null)
            return Exit.BadInput;
        if (voice.Members.IsEmpty)
        {
            screen.Complain($"{request.Folder}: nothing is wired yet, so there is nothing to build\n  mend: choose a way with 'consort plan {request.Folder}' and write it with --way and --out");
            return Exit.BadInput;
        }
        string into = request.Into ?? $"{PackFiles.NameOf(voice)}-pack";
        if (!IsFree(into))
            return Exit.BadInput;
        PanelSet panels = PanelSet.Of(voice, file => DesignFolder.Source(request.Folder, file));
        screen.Complain(DesignFolder.FromHere(request.Folder, [.. panels.Without, .. panels.Panels.SelectMany(panel => panel.Findings)]));
        (PackContent? content, Unproved? failure) = Made(request.Folder, voice, stock, panels, cancel);
        if (content is null)
        {
            screen.Complain(request.Folder, failure);
            return Exit.NotComputed;
        }
        ImmutableArray<(string Name, byte[] Content)> files = PackFiles.Of(content, VoiceFolder.Files(request.Folder), request.Filled);
        if (!Wrote(into, files))
            return Exit.BadInput;
        if (request.Json)
            screen.Line(PackJson.Write(content, into, files));
        else
            Print(into, files);
        if (panels.Panels.All(panel => panel.Passes))
            return Exit.Done;
        screen.Complain($"{into}: it is written, but its panels break the rules above\n  mend: move what they name, and make the pack again before anything is ordered");
        return Exit.LimitMissed;
    }

    private (PackContent?, Unproved?) Made(string folder, Voice voice, Stock stock, PanelSet panels, CancellationToken cancel)
    {
        using ProgressLine progress = new(screen);
        return new PackMaker(stock, VoiceFolder.Library(folder), Environment.ProcessorCount).Make(voice, panels, progress, cancel);
    }

    // A folder that is no pack is not swept away.
    private bool IsFree(string into)
    {
        if (File.Exists(into) || (Directory.Exists(into) && Directory.EnumerateFileSystemEntries(into).Any() && !File.Exists(Path.Combine(into, PackFiles.Sums))))
        {
            screen.Complain($"{into}: it is there already and is no pack\n  mend: name another folder with --out");
            return false;
        }
        return true;
    }

    private bool Wrote(string into, ImmutableArray<(string Name, byte[] Content)> files)
    {
        string name = Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(into)));
        string zip = $"{Path.TrimEndingDirectorySeparator(into)}.zip";
        return screen.Wrote(into, () => WholeFolder.Write(into, files))
            && screen.Wrote(zip, () => WholeFile.Write(zip, SteadyZip.Pack(files.Select(file => ($"{name}/{file.Name}", file.Content)))));
    }

    private void Print(string into, ImmutableArray<(string Name, byte[] Content)> files)
    {
        screen.Line($"{into}: {Figures.WithUnit(files.Length, "files")}, and {Path.TrimEndingDirectorySeparator(into)}.zip");
        foreach ((string name, byte[] content) in files)
            screen.Line($"  {content.Length,8}  {name}");
    }
}
