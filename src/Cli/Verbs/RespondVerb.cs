using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;
using Consort.Engine.Response;

namespace Consort.Cli.Verbs;

/// <summary>respond VOICE: how oscillators answer to what moves them, sheet by sheet.</summary>
internal sealed class RespondVerb(Screen screen, ReadVoice read) : IVerb
{
    /// <summary>What was asked on the command line, in SI units.</summary>
    internal sealed record Request(
        string Folder,
        ResponseWish Wish,
        ImmutableArray<string> Temperatures,
        double Kelvin = Constants.ReferenceTemperature,
        bool Untrimmed = false,
        string? Report = null,
        bool Json = false
    );

    public string Example =>
        "consort respond examples/quartet --report quartet-responses.html\nconsort respond examples/pair --oscillator lead --sheet \"width, frequency\" --play A3";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<string[]> oscillators = VoiceInput.Words("--oscillator", "LIST", "Oscillators by name; left out: the first of each kind of module.");
        Option<string[]> sheets = VoiceInput.Words("--sheet", "LIST", $"Which sheets: {string.Join(", ", ResponseWish.Words)}; left out: all.");
        Option<string[]> set = VoiceInput.Words("--set", "LIST", "Controls moved beforehand, as for scope: \"lead/P4=30%\".");
        Option<string?> play = VoiceInput.Play();
        Option<double?> swing = VoiceInput.Value("--swing", "V", Dimension.Voltage, "Jacks are driven by so much either way; left out: 5 V.", VoiceInput.AboveZero);
        Option<double?> modulator = VoiceInput.Value("--modulator", "F", Dimension.Frequency, "Of a modulating sine; left out: a fifth of the pitch played.", VoiceInput.AboveZero);
        Option<string[]> temperatures = VoiceInput.Words("--temperatures", "LIST", "For drift and shapes, as \"15 °C, 35 °C\"; left out: those of the voice's limits.");
        Option<double?> temperature = VoiceInput.OfAllParts();
        Option<bool> untrimmed = VoiceInput.Untrimmed();
        Option<string?> report = new("--report") { Description = "Also write the sheets as one HTML page with charts.", HelpName = "FILE.html" };
        Option<bool> json = new("--json") { Description = "Print the sheets as JSON (docs/json.md)." };
        Command command = new("respond", "Show how oscillators answer to what moves them: pulse width, frequency modulation, wave shapes, levels under load.")
        {
            folder, oscillators, sheets, set, play, swing, modulator, temperatures, temperature, untrimmed, report, json,
        };
        command.SetAction((parsed, cancel) =>
        {
            ResponseWish wish = new(
                VoiceInput.Split(parsed.GetValue(oscillators)),
                VoiceInput.Split(parsed.GetValue(sheets)),
                VoiceInput.Split(parsed.GetValue(set)),
                parsed.GetValue(play),
                parsed.GetValue(swing) ?? ResponseWish.UsualSwing,
                parsed.GetValue(modulator)
            );
            Request request = new(
                parsed.GetRequiredValue(folder),
                wish,
                VoiceInput.Split(parsed.GetValue(temperatures)),
                parsed.GetValue(temperature) ?? Constants.ReferenceTemperature,
                parsed.GetValue(untrimmed),
                parsed.GetValue(report),
                parsed.GetValue(json)
            );
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, makes ready, reads the sheets, writes, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, ImmutableArray<InputError> errors) = read(request.Folder);
        screen.Complain(errors);
        if (voice is null || Understand(request, voice) is not { } plan)
            return Exit.BadInput;
        using ProgressLine progress = new(screen);
        (ResponseBook? book, SolveFailure? failure) = ResponseStudy.Run(plan, !request.Untrimmed, request.Kelvin, Environment.ProcessorCount, progress, cancel);
        progress.Dispose();
        if (book is null)
        {
            screen.Complain($"{request.Folder}: {failure}\n  mend: look at the voltages there with 'consort scope', or play another note");
            return Exit.NotComputed;
        }
        if (request.Report is { } file && !screen.Wrote(file, () => WholeFile.Write(file, ResponsePage.Write(book))))
            return Exit.BadInput;
        if (request.Json)
            screen.Line(ResponseJson.Write(book));
        else
            ResponseTables.Print(screen, book);
        return Exit.Done;
    }

    // Everything that is wrong with the call's words is said in one go.
    private ResponsePlan? Understand(Request request, Voice voice)
    {
        List<WordFault> faults = [];
        List<double> kelvins = [];
        foreach (string text in request.Temperatures)
            if (!Quantity.TryRead(text, Dimension.Temperature, bare: false, out double kelvin, out QuantityFault? fault))
                faults.Add(new($"--temperatures: {fault!.What}", fault.Mend));
            else if (VoiceInput.Temperature(kelvin) is { } wrong)
                faults.Add(new($"--temperatures: '{text}' {wrong}", "name a temperature at which a module is played"));
            else
                kelvins.Add(kelvin);
        (ResponsePlan? plan, ImmutableArray<WordFault> misunderstood) = (request.Wish with { Kelvins = [.. kelvins] }).Understand(voice);
        faults.AddRange(misunderstood);
        VoiceInput.Complain(screen, "respond", faults);
        return faults.Count > 0 ? null : plan;
    }
}
