using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;

namespace Consort.Cli.Verbs;

/// <summary>scope VOICE: waveforms of jacks and nets of a whole voice in motion, with what is read off them.</summary>
internal sealed class ScopeVerb(Screen screen, ReadVoice read) : IVerb
{
    /// <summary>What was asked on the command line, in SI units.</summary>
    internal sealed record Request(
        string Folder,
        ImmutableArray<string> Show,
        ImmutableArray<string> Set,
        string? Play = null,
        double? SecondsPerDivision = null,
        double? VoltsPerDivision = null,
        string? Trigger = null,
        double? Settle = null,
        double Kelvin = Constants.ReferenceTemperature,
        bool Untrimmed = false,
        ImmutableArray<string> Pictures = default,
        bool Dark = false,
        string? Csv = null,
        bool Json = false
    );

    public string Example =>
        "consort scope examples/pair --show \"lead/sine, lead/pulse\" --set lead/width=20% --picture pair.svg\n"
        + "consort scope examples/quartet --set \"second/SW1=reset limit\" --trigger \"falling on lead/saw\"";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<string[]> show = VoiceInput.Words("--show", "LIST", "Jacks or nets, as \"lead/saw, lead/saw core\"; left out: each oscillator's first output.");
        Option<string[]> set = VoiceInput.Words("--set", "LIST", "Controls moved, by part or by the net of wiper or pole: \"lead/P4=30%, second/SW1=3, wheel=1 V\".");
        Option<string?> play = VoiceInput.Play();
        Option<double?> time = VoiceInput.Value("--time-per-division", "T", Dimension.Time, "Ten divisions are shown; left out: three periods or more fit.", VoiceInput.AboveZero);
        Option<double?> volts = VoiceInput.Value("--volts-per-division", "V", Dimension.Voltage, "Of every lane; left out: each trace fits its own.", VoiceInput.AboveZero);
        Option<string?> trigger = new("--trigger") { Description = "As \"falling through 2.5 V on lead/saw core\"; left out: rising through the first trace's middle.", HelpName = "WORDS" };
        Option<double?> settle = VoiceInput.Value("--settle", "T", Dimension.Time, "How long the voice runs before; left out: four periods of the slowest oscillator.", VoiceInput.AboveZero);
        Option<double?> temperature = VoiceInput.OfAllParts();
        Option<bool> untrimmed = VoiceInput.Untrimmed();
        Option<string[]> pictures = VoiceInput.Words("--picture", "FILE", "Also draw it, as .svg or .png; may be given twice.");
        Option<bool> dark = new("--dark") { Description = "Draw light on dark, for a dim room." };
        Option<string?> csv = new("--csv") { Description = "Also write the traces shown as comma-separated values.", HelpName = "FILE.csv" };
        Option<bool> json = new("--json") { Description = "Print readings and traces as JSON (docs/json.md)." };
        Command command = new("scope", "Show waveforms of a whole voice in motion, from its full circuit, with their readings.")
        {
            folder, show, set, play, time, volts, trigger, settle, temperature, untrimmed, pictures, dark, csv, json,
        };
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(
                parsed.GetRequiredValue(folder),
                VoiceInput.Split(parsed.GetValue(show)),
                VoiceInput.Split(parsed.GetValue(set)),
                parsed.GetValue(play),
                parsed.GetValue(time),
                parsed.GetValue(volts),
                parsed.GetValue(trigger),
                parsed.GetValue(settle),
                parsed.GetValue(temperature) ?? Constants.ReferenceTemperature,
                parsed.GetValue(untrimmed),
                VoiceInput.Split(parsed.GetValue(pictures)),
                parsed.GetValue(dark),
                parsed.GetValue(csv),
                parsed.GetValue(json)
            );
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, makes ready, sweeps, draws, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, ImmutableArray<InputError> errors) = read(request.Folder);
        screen.Complain(errors);
        if (voice is null || Understand(request, voice) is not { } plan)
            return Exit.BadInput;
        using ProgressLine progress = new(screen);
        (ScopeRecord? record, SolveFailure? broken) = plan.Take(!request.Untrimmed, request.Kelvin, Environment.ProcessorCount, null, progress, cancel);
        progress.Dispose();
        if (record is null)
            {
            screen.Complain($"{request.Folder}: {broken}\n  mend: look at that net with 'consort solve' on the module's circuit, at rest and with --until");
            return Exit.NotComputed;
        }
        if (!Draw(request, record))
            return Exit.BadInput;
        if (request.Json)
            screen.Line(ScopeJson.Write(record));
        else
            ScopeTables.Print(screen, record);
        return Exit.Done;
    }

    // Everything that is wrong with the call's words is said in one go.
    private ScopePlan? Understand(Request request, Voice voice)
    {
        ScopeWish wish = new(request.Show, request.Set, request.Play, request.SecondsPerDivision, request.VoltsPerDivision, request.Trigger, request.Settle);
        (ScopePlan? plan, ImmutableArray<WordFault> misunderstood) = wish.Understand(voice);
        List<WordFault> faults = [.. misunderstood];
        foreach (string picture in request.Pictures.IsDefault ? [] : request.Pictures)
            if (!picture.EndsWith(".svg", StringComparison.OrdinalIgnoreCase) && !picture.EndsWith(".png", StringComparison.OrdinalIgnoreCase))
                faults.Add(new($"'{picture}' is neither .svg nor .png", "end the picture's name with one of them"));
        VoiceInput.Complain(screen, "scope", faults);
        return faults.Count > 0 ? null : plan;
    }

    private bool Draw(Request request, ScopeRecord record)
    {
        string? file = null;
        try
        {
            foreach (string picture in request.Pictures.IsDefault ? [] : request.Pictures)
                if ((file = picture).EndsWith(".png", StringComparison.OrdinalIgnoreCase))
                    WholeFile.Write(file, ScopePicture.Png(record, request.Dark));
                else
                    WholeFile.Write(file, ScopePicture.Svg(record, request.Dark));
            if ((file = request.Csv) is not null)
                WholeFile.Write(file, ScopeWords.Csv(record));
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            screen.Complain($"{file}: could not be written: {e.Message}\n  mend: name a file in a folder that exists and may be written");
            return false;
        }
    }
}
