using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Quantities;

namespace Consort.Cli.Verbs;

/// <summary>The arguments and options of verbs that take readings of a unit.</summary>
internal sealed class BenchInput
{
    private const string ReferenceName = "--reference", ControlName = "--control", StandsName = "--stands";

    private readonly Option<string?> member = new("--as") { Description = "Member of the voice for which it stands; left out: the first of its module.", HelpName = "MEMBER" };
    private readonly Option<string[]> control = VoiceInput.Words(ControlName, "LIST", "Control voltages of a recording's notes in order, as \"0 V, 1 V\"; left out: whole octaves.");
    private readonly Option<double?> within = VoiceInput.Value("--control-within", "V", Dimension.Voltage, "How far control voltages may be off either way, as \"0.2 mV\".", VoiceInput.NotNegative);
    private readonly Option<double?> temperature = VoiceInput.Value("--temperature", "T", Dimension.Temperature, "Of the unit, where the files do not say it, as \"23 °C\".", VoiceInput.Temperature);
    private readonly Option<string?> reference = new(ReferenceName) { Description = "Recording of a tone of known frequency by the same recorder: sets its clock right.", HelpName = "FILE.wav" };
    private readonly Option<double?> referenceHertz = VoiceInput.Value("--reference-frequency", "F", Dimension.Frequency, "That tone's frequency; left out: 440 Hz.", VoiceInput.AboveZero);
    private readonly Option<double?> referenceWithin = VoiceInput.Value("--reference-within", "R", Dimension.Ratio, "How far it may be off either way, as \"1 ppm\"; left out: exact.", VoiceInput.NotNegative);
    private readonly Option<double?> fullScale = VoiceInput.Value("--full-scale", "V", Dimension.Voltage, "Voltage at the recorder's digital full scale, for levels in volts.", VoiceInput.AboveZero);
    private readonly Option<string?> mains = new("--mains") { Description = "Hum to allow for: 50, 60 or none; left out: whichever is found.", HelpName = "HZ" };
    private readonly Option<int?> channel = new("--channel") { Description = "Channel of the recordings, from 1; left out: the first.", HelpName = "N" };
    private readonly Option<string[]> stands = VoiceInput.Words(StandsName, "LIST", "Where trimmers stand in the last file, turned since the first reading or as a place, as \"RV2 +1.5, RV3 100%\" (100 %: at the clockwise stop).");
    private readonly Option<bool> pair = new("--pair") { Description = "Two oscillators sound together, up to 50 cents apart: read both, and their beat." };

    /// <summary>The voice's folder.</summary>
    public Argument<string> Folder { get; } = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };

    /// <summary>The unit.</summary>
    public Option<string> Unit { get; } = new("--unit") { Description = "Module and serial of the unit.", HelpName = "MODULE/SERIAL", Required = true };

    /// <summary>The readings.</summary>
    public Argument<string[]> Files { get; } = new("FILE") { Description = "Readings: tables (.csv) and recordings (.wav).", Arity = ArgumentArity.OneOrMore };

    /// <summary>What was asked, as the verbs' requests hold it.</summary>
    internal sealed record Asked(string Folder, string Unit, ImmutableArray<string> Files, ReadingOptions Options, string? Member = null);

    /// <summary>Adds all of it to a verb.</summary>
    public void AddTo(Command command)
    {
        command.Add(Folder);
        command.Add(Files);
        command.Add(Unit);
        foreach (Option option in (Option[])[member, control, within, temperature, reference, referenceHertz, referenceWithin, fullScale, mains, channel, stands, pair])
            command.Add(option);
        command.Validators.Add(Check);
    }

    private void Check(CommandResult result)
    {
        foreach (string text in VoiceInput.Split(result.GetValue(control)))
            if (!Quantity.TryRead(text, Dimension.Voltage, bare: false, out _, out QuantityFault? fault))
                result.AddError($"{ControlName}: {fault!.What}; {fault.Mend}");
        foreach (string text in VoiceInput.Split(result.GetValue(stands)).Where(text => TurnWords.Turn(text) is null))
            result.AddError($"{StandsName}: '{text}' is no trimmer with its turns or its place, as RV2 +1.5 or RV3 100%");
        if (result.GetValue(mains) is not (null or "50" or "60" or "none"))
            result.AddError("--mains takes 50, 60 or none");
        if (result.GetValue(channel) < 1)
            result.AddError("--channel counts from 1");
        if (result.GetValue(reference) is null && (result.GetValue(referenceHertz) is not null || result.GetValue(referenceWithin) is not null))
            result.AddError($"a reference's frequency needs {ReferenceName}, the recording of it");
    }

    /// <summary>What was asked.</summary>
    public Asked Take(ParseResult parsed)
    {
        ImmutableArray<string> volts = VoiceInput.Split(parsed.GetValue(control));
        ReferenceTone? tone = parsed.GetValue(reference) is { } file
            ? new(file, parsed.GetValue(referenceHertz) ?? 440, parsed.GetValue(referenceWithin) ?? 0)
            : null;
        ReadingOptions options = new(
            volts.IsEmpty ? null : [.. volts.Select(text => Quantity.Read(text, Dimension.Voltage)!.Value)],
            parsed.GetValue(within) ?? 0,
            parsed.GetValue(temperature),
            parsed.GetValue(fullScale),
            parsed.GetValue(pair),
            parsed.GetValue(mains) switch { "50" => Mains.Fifty, "60" => Mains.Sixty, "none" => Mains.None, _ => Mains.Either },
            parsed.GetValue(channel) ?? 1,
            tone,
            Stands: Stands(VoiceInput.Split(parsed.GetValue(stands)))
        );
        return new(parsed.GetRequiredValue(Folder), parsed.GetRequiredValue(Unit), [.. parsed.GetRequiredValue(Files)], options, parsed.GetValue(member));
    }

    private static ImmutableDictionary<string, TrimmerStand>? Stands(ImmutableArray<string> words)
    {
        if (words.IsEmpty)
            return null;
        ImmutableDictionary<string, TrimmerStand> stands = ImmutableDictionary<string, TrimmerStand>.Empty;
        foreach (string word in words)
            if (TurnWords.Turn(word) is { } turn)
                stands = stands.SetItem(turn.Trimmer, new(turn.Position, turn.Turned ?? 0));
        return stands;
    }
}
