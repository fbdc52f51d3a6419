using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Locking;
using Consort.Engine.Quantities;

namespace Consort.Cli.Verbs;

/// <summary>lock VOICE: how near to unison two oscillators may stand before the voice's wiring locks them.</summary>
internal sealed class LockVerb(Screen screen, ReadVoice read) : IVerb
{
    /// <summary>What was asked on the command line, in SI units.</summary>
    internal sealed record Request(
        string Folder,
        ImmutableArray<string> Set,
        string? Play = null,
        double Kelvin = Constants.ReferenceTemperature,
        bool Untrimmed = false,
        bool Json = false
    );

    public string Example => "consort lock examples/quartet\nconsort lock examples/pair --play A3";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<string[]> set = VoiceInput.Words("--set", "LIST", "Controls moved, as for scope: \"second/SW1=soft limit\".");
        Option<string?> play = new("--play") { Description = "Only this voltage on the keyboard, as \"3 V\", or key, as A4; left out: each octave of the limits.", HelpName = "V" };
        Option<double?> temperature = VoiceInput.OfAllParts();
        Option<bool> untrimmed = VoiceInput.Untrimmed();
        Option<bool> json = new("--json") { Description = "Print it as JSON (docs/json.md)." };
        Command command = new("lock", "Find how near to unison oscillators lock through ribbon, reference wire, supply and ground.")
        {
            folder, set, play, temperature, untrimmed, json,
        };
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(
                parsed.GetRequiredValue(folder),
                VoiceInput.Split(parsed.GetValue(set)),
                parsed.GetValue(play),
                parsed.GetValue(temperature) ?? Constants.ReferenceTemperature,
                parsed.GetValue(untrimmed),
                parsed.GetValue(json)
            );
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, makes ready, finds the lock ranges, holds the widest against the whole circuit, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, ImmutableArray<InputError> errors) = read(request.Folder);
        screen.Complain(errors);
        if (voice is null || Understand(request, voice) is not { } plan)
            return Exit.BadInput;
        using ProgressLine progress = new(screen);
        progress.Report(("trimming", 0));
        (PlayedVoice? played, SolveFailure? failure) = ReadyVoice.Of(voice, plan.Moved, !request.Untrimmed, request.Kelvin, Environment.ProcessorCount);
        if (played is null)
            return Failed(request, progress, failure!);
        (LockSheet? sheet, SolveFailure? broken) = LockSheet.Of(played, plan.Notes, Environment.ProcessorCount, progress, cancel);
        progress.Dispose();
        if (sheet is null)
            return Failed(request, progress, broken!);
        if (request.Json)
            screen.Line(LockText.Json(sheet));
        else
            LockText.Print(screen, sheet);
        return sheet.Passed ? Exit.Done : Exit.LimitMissed;
    }

    private sealed record Plan(Voice Moved, ImmutableArray<double> Notes);

    private Plan? Understand(Request request, Voice voice)
    {
        List<WordFault> faults = [];
        (Voice moved, ImmutableArray<WordFault> unmoved) = ControlMoves.Apply(voice, request.Set);
        faults.AddRange(unmoved);
        (double volts, WordFault? unplayed) = Engine.Scope.PlayedKey.Read(voice, request.Play);
        if (unplayed is not null)
            faults.Add(unplayed);
        if (voice.Members.Count(member => member.Module.Pitch is not null && member.Module.Sheet is null) < 2)
            faults.Add(new("the voice has fewer than two oscillators whose circuit is known", "name a voice with two or more"));
        VoiceInput.Complain(screen, "lock", faults);
        return faults.Count > 0 ? null : new(moved, request.Play is null ? LockSheet.Octaves(voice) : [volts]);
    }

    private int Failed(Request request, ProgressLine progress, SolveFailure failure)
    {
        progress.Dispose();
        screen.Complain($"{request.Folder}: {failure}\n  mend: look at the voltages there with 'consort scope', or play another note");
        return Exit.NotComputed;
    }
}
