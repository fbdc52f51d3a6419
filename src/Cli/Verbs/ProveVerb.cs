using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;

namespace Consort.Cli.Verbs;

/// <summary>Reads a voice's folder: the voice, or null with the reasons.</summary>
internal delegate (Voice? Voice, ImmutableArray<InputError> Errors) ReadVoice(string folder);

/// <summary>Proves a voice: the proof, or why there is none. Progress runs from 0 to 1.</summary>
internal delegate (Proof? Proof, Unproved? Failure) ProveVoice(
    Voice voice,
    IProgress<(string Stage, double Done)> progress,
    CancellationToken cancel
);

/// <summary>prove VOICE [--report FILE] [--json] [--why CLAIM]: say with numbers and reasons whether a voice plays as one.</summary>
internal sealed class ProveVerb(Screen screen, ReadVoice read, ProveVoice prove) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, string? Report = null, bool Json = false, string? Why = null);

    public string Example => "consort prove examples/quartet --report quartet.html\nconsort prove examples/quartet --why tracking";

    public static ProveVerb Standard(Screen screen) =>
        new(
            screen,
            folder => DesignFolder.Read(folder) is var read ? (read.Voice, read.Errors) : default,
            (voice, progress, cancel) => new Prover(Environment.ProcessorCount).Run(voice, progress, cancel)
        );

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<string?> report = new("--report") { Description = "Also write a page with plots to this file.", HelpName = "FILE.html" };
        Option<bool> json = new("--json") { Description = "Print the whole proof as JSON (docs/json.md) instead of tables." };
        Option<string?> why = new("--why")
        {
            Description = "Print the chain from one claim's figure down to parts; 'all' for every claim.",
            HelpName = "CLAIM",
        };
        Command command = new("prove", "Say with numbers and reasons whether a voice plays as one.") { folder, report, json, why };
        command.Validators.Add(result =>
        {
            if (result.GetValue(json) && result.GetValue(why) is not null)
                result.AddError("--why and --json exclude each other: the JSON holds every claim's chain");
        });
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(parsed.GetRequiredValue(folder), parsed.GetValue(report), parsed.GetValue(json), parsed.GetValue(why));
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, proves, writes the page, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, ImmutableArray<InputError> errors) = read(request.Folder);
        screen.Complain(errors);
        if (voice is null)
            return Exit.BadInput;
        using ProgressLine progress = new(screen);
        (Proof? proof, Unproved? failure) = prove(voice, progress, cancel);
        progress.Dispose();
        cancel.ThrowIfCancellationRequested();
        if (proof is null)
        {
            screen.Complain($"{request.Folder}: {failure?.What}\n  mend: {failure?.Mend}");
            return Exit.NotComputed;
        }
        if (request.Report is { } file && !screen.Wrote(file, () => WholeFile.Write(file, ReportPage.Write(proof))))
            return Exit.BadInput;
        return Print(request, proof);
    }

    private int Print(Request request, Proof proof)
    {
        int code = proof.Passed ? Exit.Done : Exit.LimitMissed;
        if (request.Json)
            screen.Line(ProofJson.Write(proof));
        else if (request.Why is null)
            ProofTables.Print(screen, proof);
        else
            code = PrintWhy(request.Why, proof, code);
        return code;
    }

    private int PrintWhy(string why, Proof proof, int code)
    {
        string key = why.Replace('-', ' ');
        Claim[] asked = [.. proof.Claims.Where(claim => key == "all" || claim.Key.Replace('-', ' ') == key)];
        if (asked.Length == 0)
        {
            string known = string.Join(", ", proof.Claims.Select(claim => claim.Key.Replace(' ', '-')));
            screen.Complain($"consort prove: there is no claim '{why}'\n  mend: one of {known}, or all");
            return Exit.BadInput;
        }
        foreach (Claim claim in asked)
        {
            if (claim != asked[0])
                screen.Line();
            ReasonTree.Print(screen, claim);
        }
        return code;
    }
}
