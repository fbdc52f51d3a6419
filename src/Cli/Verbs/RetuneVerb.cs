using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Retuning;

namespace Consort.Cli.Verbs;

/// <summary>retune VOICE [--write] [--json]: preferred values for the parts that modules name free, so that trimmers stand near their
/// middle and tracking is flat.</summary>
internal sealed class RetuneVerb(Screen screen) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, bool Write = false, bool Json = false);

    public string Example => "consort retune examples/pair";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder; its modules name free parts: 'free: [R8, R14]'." };
        Option<bool> write = new("--write") { Description = "Write the values into the modules' files; everything else in them stays." };
        Option<bool> json = new("--json") { Description = "Print what was found as JSON (docs/json.md) instead of tables." };
        Command command = new("retune", "Choose preferred values for free parts: trimmers near their middle, tracking flat.") { folder, write, json };
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(parsed.GetRequiredValue(folder), parsed.GetValue(write), parsed.GetValue(json));
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, searches, writes when asked, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, _, ImmutableArray<InputError> errors) = DesignFolder.Read(request.Folder);
        screen.Complain(errors);
        if (voice is null)
            return Exit.BadInput;
        if (voice.Members.All(member => member.Module.Free.IsEmpty))
        {
            screen.Complain($"{request.Folder}: no module has a free value\n  mend: add 'free: [R8, R14]' to a module's file, with parts whose values may change");
            return Exit.BadInput;
        }
        using ProgressLine progress = new(screen);
        (Retuning? found, Unproved? failure) = new Retuner(Environment.ProcessorCount).Run(voice, progress, cancel);
        progress.Dispose();
        cancel.ThrowIfCancellationRequested();
        if (found is null)
        {
            screen.Complain(request.Folder, failure);
            return Exit.NotComputed;
        }
        if (request.Json)
            screen.Line(RetuningJson.Write(voice.Name, found));
        else
            RetuningTables.Print(screen, voice, found);
        return request.Write && !ModulePatch.Write(request.Folder, found, screen) ? Exit.BadInput : Exit.Done;
    }
}
