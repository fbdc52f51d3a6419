using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Cli.Verbs;

/// <summary>Reads a voice's folder: the voice, or null with the reasons.</summary>
internal delegate (Voice? Voice, ImmutableArray<InputError> Errors) ReadVoice(string folder);

/// <summary>The same, with the shelf that its parts come from.</summary>
internal delegate (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) ReadDesign(string folder);

/// <summary>Proves a voice: the proof, or why there is none. Progress runs from 0 to 1.</summary>
internal delegate (Proof? Proof, Unproved? Failure) ProveVoice(
    Voice voice,
    SpreadRequest? spread,
    long? build,
    IProgress<(string Stage, double Done)> progress,
    CancellationToken cancel
);

/// <summary>prove VOICE [--report FILE] [--json] [--why CLAIM] [--builds N] [--seed N] [--build N]: say with numbers and reasons
/// whether a voice plays as one, and whether thousands of builds of it do.</summary>
internal sealed class ProveVerb(Screen screen, ReadDesign read, ProveVoice prove) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(
        string Folder,
        string? Report = null,
        bool Json = false,
        string? Why = null,
        int Builds = Request.UsualBuilds,
        ulong Seed = 1,
        long? Build = null
    )
    {
        internal const int UsualBuilds = 10_000;
        internal const int MostBuilds = 10_000_000;
    }

    public string Example =>
        "consort prove examples/quartet --report quartet.html\nconsort prove examples/quartet --why yield\nconsort prove examples/quartet --build 17";

    public static ProveVerb Standard(Screen screen) =>
        new(
            screen,
            DesignFolder.Read,
            (voice, spread, build, progress, cancel) =>
                new Prover(Environment.ProcessorCount) { Spread = spread, Build = build }.Run(voice, progress, cancel)
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
        Option<int> builds = new("--builds")
        {
            Description = "Trimmed builds to make, every part drawn within its tolerance; 0 for none.",
            HelpName = "NUMBER",
            DefaultValueFactory = _ => Request.UsualBuilds,
        };
        Option<ulong> seed = new("--seed") { Description = "Seed that builds are drawn from.", HelpName = "NUMBER", DefaultValueFactory = _ => 1UL };
        Option<long?> build = new("--build") { Description = "Prove one build of that seed instead of the design, by its number.", HelpName = "NUMBER" };
        Command command = new("prove", "Say with numbers and reasons whether a voice plays as one.") { folder, report, json, why, builds, seed, build };
        command.Validators.Add(result =>
        {
            if (result.GetValue(json) && result.GetValue(why) is not null)
                result.AddError("--why and --json exclude each other: the JSON holds every claim's chain");
            if (result.GetValue(builds) is < 0 or > Request.MostBuilds)
                result.AddError($"--builds: give a number from 0 to {Request.MostBuilds}");
            if (result.GetValue(build) < 0)
                result.AddError("--build: builds are numbered from 0");
        });
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(
                parsed.GetRequiredValue(folder),
                parsed.GetValue(report),
                parsed.GetValue(json),
                parsed.GetValue(why),
                parsed.GetValue(builds),
                parsed.GetValue(seed),
                parsed.GetValue(build)
            );
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, proves, writes the page, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = read(request.Folder);
        screen.Complain(errors);
        if (voice is null)
            return Exit.BadInput;
        using ProgressLine progress = new(screen);
        bool areBuilds = request.Builds > 0 || request.Build is not null;
        SpreadRequest? spread = areBuilds ? new(stock ?? Stock.Empty, request.Builds, request.Seed) : null;
        (Proof? proof, Unproved? failure) = prove(voice, spread, request.Build, progress, cancel);
        progress.Dispose();
        cancel.ThrowIfCancellationRequested();
        if (proof is null)
        {
            screen.Complain(request.Folder, failure);
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
