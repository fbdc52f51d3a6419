using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Bench;
using Consort.Engine.Design;
using Consort.Engine.Documents.Bench;
using Consort.Engine.Faults;
using Consort.Engine.Pitch;

namespace Consort.Cli.Verbs;

/// <summary>diagnose VOICE --unit MODULE/SERIAL FIGURES.csv: what is likely wrong with a built unit, and what to read next.</summary>
internal sealed class DiagnoseVerb(Screen screen, ReadShelf read) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, string Unit, string? File, bool Json = false);

    public string Example => "consort diagnose examples/pair --unit pair-lead/0003 examples/pair/readings/lead-0003-figures.csv";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Argument<string?> file = new("FIGURES") { Description = "What was read: a table of voltages, currents and frequencies (docs/faults.md). Without it: prints one to be filled in.", Arity = ArgumentArity.ZeroOrOne };
        Option<string> unit = new("--unit") { Description = "Module and serial of the unit.", HelpName = "MODULE/SERIAL", Required = true };
        Option<bool> json = new("--json") { Description = "Print it as JSON (docs/json.md)." };
        Command command = new("diagnose", "From voltages, currents and pitch of a built unit: what is likely wrong with it, and what to read next.") { folder, file, unit, json };
        command.SetAction((parsed, cancel) => Task.Run(() => Run(new(parsed.GetRequiredValue(folder), parsed.GetRequiredValue(unit), parsed.GetValue(file), parsed.GetValue(json)), cancel), cancel));
        return command;
    }

    /// <summary>Reads, weighs, prints. The exit code tells whether a fault is claimed.</summary>
    public int Run(Request request, CancellationToken cancel = default)
    {
        Stock? stock = null;
        if (BenchUnit.Place(screen, Voice, "diagnose", request.Folder, request.Unit, null) is not { } place)
            return Exit.BadInput;
        if (request.File is null)
        {
            screen.Line(UnitDiagnosis.Blank(place.Voice, stock ?? Stock.Empty, place.Place).TrimEnd());
            return Exit.Done;
        }
        using ProgressLine progress = new(screen);
        (UnitDiagnosis? found, ImmutableArray<InputError> errors, Unproved? failure) = UnitDiagnosis.Of(place.Voice, stock ?? Stock.Empty, place.Place, request.File, Environment.ProcessorCount, progress, cancel);
        progress.Dispose();
        screen.Complain(errors);
        if (failure is not null)
            screen.Complain(request.Folder, failure);
        if (found is null)
            return failure is null ? Exit.BadInput : Exit.NotComputed;
        if (request.Json)
            screen.Line(DiagnosisJson.Write(place.Voice.Name, found));
        else
            DiagnosisText.Print(screen, found);
        return found.Diagnosis.IsSound ? Exit.Done : Exit.LimitMissed;

        (Voice?, ImmutableArray<InputError>) Voice(string folder)
        {
            (Voice? voice, stock, ImmutableArray<InputError> wrong) = read(folder);
            return (voice, wrong);
        }
    }
}
