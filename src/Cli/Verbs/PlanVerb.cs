using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents.Plans;
using Consort.Engine.Pitch;
using Consort.Engine.Planning;

namespace Consort.Cli.Verbs;

/// <summary>plan VOICE [--way N [--out FILE]] [--pictures FOLDER] [--builds N] [--seed N] [--lock] [--json]: every sensible way to wire a voice.</summary>
internal sealed class PlanVerb(Screen screen) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, int? Way = null, string? Into = null, string? Pictures = null, bool Json = false, int Builds = 0, ulong Seed = 1, bool Lock = false);

    public string Example => "consort plan examples/quartet --pictures ways\nconsort plan examples/quartet --builds 2000 --lock\nconsort plan examples/quartet --way 5 --out wired.yaml";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder: its 'plan' says what is wanted, or else its wiring." };
        Option<int?> way = new("--way") { Description = "Show this way in full: its cords, its slots on the supply.", HelpName = "N" };
        Option<string?> into = new("--out") { Description = "Write the way of --way as a voice file.", HelpName = "FILE.yaml" };
        Option<string?> pictures = new("--pictures") { Description = "Draw each way's connections and its rows of panels (SVG) into this folder.", HelpName = "FOLDER" };
        Option<int> builds = new("--builds") { Description = "Make so many builds of each way, trim them, and give the share that keeps the limits; takes some seconds a way.", HelpName = "N" };
        Option<ulong> seed = new("--seed") { Description = "Seed that builds are drawn from.", HelpName = "N", DefaultValueFactory = _ => 1UL };
        Option<bool> locks = new("--lock") { Description = "Give the range of detune over which two oscillators lock, for each way; takes some seconds a way." };
        Option<bool> json = new("--json") { Description = "Print everything as JSON (docs/json.md) instead of tables." };
        Command command = new("plan", "Find every sensible way to wire a voice from the modules at hand, and what each takes.") { folder, way, into, pictures, builds, seed, locks, json };
        command.Validators.Add(result =>
        {
            if (result.GetValue(way) < 1)
                result.AddError("--way takes the number of a way, from 1");
            if (result.GetValue(builds) < 0)
                result.AddError("--builds takes a number from 0");
            if (result.GetValue(into) is not null && result.GetValue(way) is null)
                result.AddError("--out needs --way: which of the ways is to be written");
        });
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(parsed.GetRequiredValue(folder), parsed.GetValue(way), parsed.GetValue(into), parsed.GetValue(pictures), parsed.GetValue(json), parsed.GetValue(builds), parsed.GetValue(seed), parsed.GetValue(locks));
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, plans, writes the files, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = DesignFolder.Read(request.Folder);
        screen.Complain(errors);
        if (voice is null || stock is null)
            return Exit.BadInput;
        (WiringPlan? plan, Unproved? failure) = Planned(request, voice, stock, cancel);
        if (plan is null)
        {
            screen.Complain(request.Folder, failure);
            return Exit.NotComputed;
        }
        if (!Wrote(request, plan))
            return Exit.BadInput;
        if (request.Json)
            screen.Line(PlanJson.Write(plan));
        else if (request.Way is { } number)
            PlanTables.PrintWay(screen, plan, number);
        else
            PlanTables.Print(screen, plan, stock.Currency);
        return Exit.Done;
    }

    private (WiringPlan?, Unproved?) Planned(Request request, Voice voice, Stock stock, CancellationToken cancel)
    {
        using ProgressLine progress = new(screen);
        Planner planner = new(voice, VoiceFolder.Modules(request.Folder), stock, VoiceFolder.Library(request.Folder), Environment.ProcessorCount)
        {
            Spread = request.Builds > 0 ? new(stock, request.Builds, request.Seed) : null,
            Locks = request.Lock,
        };
        return planner.Run(progress, cancel);
    }

    private bool Wrote(Request request, WiringPlan plan)
    {
        if (request.Way is { } number && number > plan.Alternatives.Length)
        {
            screen.Complain($"consort plan: there is no way {number}\n  mend: 1 to {plan.Alternatives.Length}");
            return false;
        }
        if (request.Into is { } into && !screen.Wrote(into, () => WholeFile.Write(into, VoiceText.Write(plan.Alternatives[request.Way!.Value - 1]))))
            return false;
        return request.Pictures is not { } folder || PlanPictures.Of(plan).All(file => screen.Wrote(Path.Combine(folder, file.Name), () =>
        {
            Directory.CreateDirectory(folder);
            WholeFile.Write(Path.Combine(folder, file.Name), file.Content);
        }));
    }
}
