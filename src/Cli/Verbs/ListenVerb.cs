using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Consort.Cli.Printing;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Playing;

namespace Consort.Cli.Verbs;

/// <summary>listen VOICE --out FILE.wav: what a voice sounds like, from its circuits' laws, as a sound file.</summary>
internal sealed class ListenVerb(Screen screen, ReadDesign read) : IVerb
{
    private static readonly int[] Rates = [44_100, 48_000, 88_200, 96_000, 176_400, 192_000];

    /// <summary>What was asked on the command line, in SI units.</summary>
    internal sealed record Request(
        string Folder,
        string Out,
        ImmutableArray<string> Notes,
        string? Midi,
        int? Channel,
        ImmutableArray<string> Mix,
        ImmutableArray<string> Place,
        ImmutableArray<string> Stand,
        ImmutableArray<string> Move,
        ImmutableArray<string> Set,
        int Octave = 0,
        double Fine = 0,
        double Glide = 0,
        double Attack = 0.005,
        double Release = 0.05,
        int Rate = 48_000,
        SampleFormat Format = SampleFormat.Bits24,
        double Level = 0.1,
        string? Beside = null,
        string? Beats = null,
        double Kelvin = Constants.ReferenceTemperature,
        bool Untrimmed = false,
        bool Json = false,
        long? Build = null,
        ulong Seed = 1,
        UnrestRequest? Unrest = null
    );

    public string Example =>
        "consort listen examples/quartet --notes \"A2 1 s, E3 1 s\" --stand \"third=+7 cents\" --out low.wav\n"
        + "consort listen examples/pair --midi tune.mid --move \"bench knob=sine 0.5 Hz 3 V\" \\\n"
        + "  --set lead/pwm=100% --mix \"lead/pulse, second/triangle=-6 dB\" --out pair.wav\n"
        + "consort listen examples/quartet --notes \"A3 4 s\" --beside examples/patched --out linked.wav\n"
        + "consort listen examples/quartet --notes \"A3 4 s\" --noise --warm-up \"8 K\" --out cold.wav\n"
        + "consort listen examples/quartet --notes \"A3 4 s\" --build 17 --beside \"build 18\" --out build.wav";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<string> file = new("--out") { Description = "The sound file to write.", HelpName = "FILE.wav", Required = true };
        Option<string[]> notes = VoiceInput.Words("--notes", "LIST", "Keys with their lengths, as \"A2 1 s, rest 200 ms, C#3 1 s\".");
        Option<string?> midi = new("--midi") { Description = "Play a Standard MIDI File; of several keys held, the last one.", HelpName = "FILE.mid" };
        Option<int?> channel = new("--channel") { Description = "Play only this channel of it, 1 to 16.", HelpName = "N" };
        Option<string[]> mix = VoiceInput.Words("--mix", "LIST", "Outputs with their levels, as \"lead/saw, second/pulse=-6 dB\"; left out: each oscillator's first.");
        Option<string[]> place = VoiceInput.Words("--place", "LIST", "Stereo places, as \"lead=-50%, second=50%\"; left out: spread.");
        Option<string[]> stand = VoiceInput.Words("--stand", "LIST", "Intervals added to where each stands, as \"second=+7 cents, third=-1 octave\".");
        Option<string[]> move = VoiceInput.Words("--move", "LIST", "Players moved about where they stand: \"slow wave=sine 5 Hz 2 V\", \"fm=triangle 2x 1 V\" at twice the pitch.");
        Option<string[]> set = VoiceInput.Words("--set", "LIST", "Controls moved, as for scope: \"lead/pwm=100%, second/SW1=reset limit\".");
        Option<int?> octave = new("--octave") { Description = "Octaves up or down.", HelpName = "N" };
        Option<double?> fine = VoiceInput.Value("--fine", "INTERVAL", Dimension.Interval, "Finely up or down, as \"+10 cents\".", _ => null);
        Option<double?> glide = VoiceInput.Value("--glide", "T", Dimension.Time, "Time constant with which the pitch follows the keys; left out: at once.", VoiceInput.AboveZero);
        Option<double?> attack = VoiceInput.Value("--attack", "T", Dimension.Time, "Of the gate; left out: 5 ms.", VoiceInput.AboveZero);
        Option<double?> release = VoiceInput.Value("--release", "T", Dimension.Time, "Of the gate; left out: 50 ms.", VoiceInput.AboveZero);
        Option<int?> rate = new("--rate") { Description = "Samples a second: 44100 to 192000; left out: 48000.", HelpName = "HZ" };
        Option<int?> bits = new("--bits") { Description = "16, 24 or 32 (floating point); left out: 24.", HelpName = "N" };
        Option<double?> level = VoiceInput.Value("--level", "DB", Dimension.Ratio, "Of the highest peak against full scale; left out: -20 dB. Raise it with care.",
            value => value is > 0 and <= 1 ? null : "is not a level up to full scale; write it as \"-20 dB\"", bare: true);
        Option<string?> beside = new("--beside") { Description = "Also write FILE-b.wav at the same scale, to compare: 'ideal' pitch, 'build N' of this voice, or another voice's folder.", HelpName = "WHAT" };
        Option<string?> beats = new("--beats") { Description = "Also draw how fast each pair beats over the keyboard, as .svg or .png.", HelpName = "FILE" };
        Option<double?> temperature = VoiceInput.OfAllParts();
        Option<bool> untrimmed = VoiceInput.Untrimmed();
        Option<long?> build = new("--build") { Description = "Play one build of that seed, trimmed, instead of the design; by its number, as in prove.", HelpName = "NUMBER" };
        Option<ulong> seed = new("--seed") { Description = "Seed that builds and noise are drawn from.", HelpName = "NUMBER", DefaultValueFactory = _ => 1UL };
        Option<bool> json = new("--json") { Description = "Print what was played and read as JSON (docs/json.md)." };
        Command command = new("listen", "Play notes or a MIDI file on a voice and write the sound to a file.")
        {
            folder, file, notes, midi, channel, mix, place, stand, move, set, octave, fine, glide, attack, release, rate, bits, level, beside, beats, temperature, untrimmed, build, seed, json,
        };
        UnrestInput unrest = new();
        unrest.AddTo(command);
        command.Validators.Add(result =>
        {
            if (result.GetValue(rate) is { } asked && !Rates.Contains(asked))
                result.AddError($"--rate is one of {string.Join(", ", Rates)}");
            if (result.GetValue(bits) is not (null or 16 or 24 or 32))
                result.AddError("--bits is 16, 24 or 32");
            if (result.GetValue(channel) is < 1 or > 16)
                result.AddError("--channel is 1 to 16");
            if (result.GetValue(octave) is < -10 or > 10)
                result.AddError("--octave is -10 to 10");
            if (result.GetValue(beats) is { } picture && !IsPicture(picture))
                result.AddError("--beats ends in .svg or .png");
            if (result.GetValue(build) < 0)
                result.AddError("--build: builds are numbered from 0");
            if (result.GetValue(untrimmed) && (result.GetValue(build) is not null || BuildBeside(result.GetValue(beside)) is not null))
                result.AddError("--untrimmed and builds exclude each other: every build is trimmed");
            if (result.GetValue(notes) is { Length: > 0 } == result.GetValue(midi) is not null)
                result.AddError("say what to play: either --notes or --midi");
        });
        command.SetAction((parsed, cancel) =>
        {
            Request request = new(
                parsed.GetRequiredValue(folder),
                parsed.GetRequiredValue(file),
                VoiceInput.Split(parsed.GetValue(notes)),
                parsed.GetValue(midi),
                parsed.GetValue(channel),
                VoiceInput.Split(parsed.GetValue(mix)),
                VoiceInput.Split(parsed.GetValue(place)),
                VoiceInput.Split(parsed.GetValue(stand)),
                VoiceInput.Split(parsed.GetValue(move)),
                VoiceInput.Split(parsed.GetValue(set)),
                parsed.GetValue(octave) ?? 0,
                parsed.GetValue(fine) ?? 0,
                parsed.GetValue(glide) ?? 0,
                parsed.GetValue(attack) ?? 0.005,
                parsed.GetValue(release) ?? 0.05,
                parsed.GetValue(rate) ?? 48_000,
                parsed.GetValue(bits) switch { 16 => SampleFormat.Bits16, 32 => SampleFormat.Float32, _ => SampleFormat.Bits24 },
                parsed.GetValue(level) ?? 0.1,
                parsed.GetValue(beside),
                parsed.GetValue(beats),
                parsed.GetValue(temperature) ?? Constants.ReferenceTemperature,
                parsed.GetValue(untrimmed),
                parsed.GetValue(json),
                parsed.GetValue(build),
                parsed.GetValue(seed),
                unrest.Of(parsed)
            );
            return Task.Run(() => Run(request, cancel), cancel);
        });
        return command;
    }

    /// <summary>Reads, makes ready, renders, writes, prints.</summary>
    public int Run(Request request, CancellationToken cancel)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = read(request.Folder);
        screen.Complain(errors);
        if (voice is null || Understand(request, voice) is not { } plan)
            return Exit.BadInput;
        using ProgressLine progress = new(screen);
        BuildPick? Pick(long? number) => number is { } build ? new(stock ?? Stock.Empty, build, request.Seed) : null;
        (Rendering? sound, SolveFailure? failure) = Render(request, voice, plan.Moved, plan.Settings, Pick(request.Build), progress, cancel);
        if (sound is null)
            return Failed(request.Folder, progress, failure!);
        Rendering? beside = request.Beside == Ideal ? sound.Ideal(cancel) : null;
        if (plan.Beside is { } other)
        {
            (beside, failure) = Render(request, other.Voice, other.Moved, other.Settings, Pick(BuildBeside(request.Beside)), progress, cancel);
            if (beside is null)
                return Failed(request.Beside!, progress, failure!);
        }
        progress.Dispose();
        return Tell(request, sound, beside);
    }

    private const string Ideal = "ideal";
    private const string BuildWord = "build ";

    // The number in 'build N'; null when something else is meant.
    private static long? BuildBeside(string? beside) =>
        beside is not null && beside.StartsWith(BuildWord, StringComparison.Ordinal) && long.TryParse(beside.AsSpan(BuildWord.Length), NumberStyles.None, CultureInfo.InvariantCulture, out long number)
            ? number
            : null;

    private static bool IsPicture(string file) =>
        file.EndsWith(".svg", StringComparison.OrdinalIgnoreCase) || file.EndsWith(".png", StringComparison.OrdinalIgnoreCase);

    private static (Rendering?, SolveFailure?) Render(Request request, Voice written, Voice moved, SoundSettings settings, BuildPick? pick, ProgressLine progress, CancellationToken cancel)
    {
        progress.Report((pick is null ? "trimming" : "building and trimming", 0));
        int threads = Environment.ProcessorCount;
        (PlayedVoice? played, SolveFailure? failure) = pick is null
            ? ReadyVoice.Of(written, moved, !request.Untrimmed, request.Kelvin, threads)
            : ReadyVoice.Of(written, moved, pick, request.Kelvin, threads);
        if (played is null)
            return (null, failure);
        (Rendering? sound, failure) = Rendering.Of(played, settings, threads, progress, cancel);
        return (pick is null ? sound : sound?.OfBuild(pick.Number), failure);
    }

    // Both of a pair are scaled alike, so that loudness compares: the louder one's peak stands at the level.
    private int Tell(Request request, Rendering sound, Rendering? beside)
    {
        double peak = Math.Max(sound.Peak, beside?.Peak ?? 0);
        double full = peak > 0 ? peak / request.Level : 1;
        PlayedSound played = PlayedSound.Of(sound, full);
        PlayedSound? other = beside is null ? null : PlayedSound.Of(beside, full);
        if (!Wrote(request, request.Out, sound, full) || (beside is not null && !Wrote(request, BesideFile(request.Out), beside, full)))
            return Exit.BadInput;
        if (request.Beats is { } picture && !screen.Wrote(picture, () => BeatPicture.Write(picture, BeatCurve.Of(played.Laws, played.Settings.Strips), played.Voice)))
            return Exit.BadInput;
        if (request.Json)
            screen.Line(SoundText.Json(request.Out, request.Format, played, BesideFile(request.Out), other));
        else
            SoundText.Print(screen, request.Out, request.Format, played, BesideFile(request.Out), other);
        return Exit.Done;
    }

    private static string BesideFile(string file) =>
        Path.Combine(Path.GetDirectoryName(file) ?? "", $"{Path.GetFileNameWithoutExtension(file)}-b{Path.GetExtension(file)}");

    private sealed record Plan(Voice Moved, SoundSettings Settings, (Voice Voice, Voice Moved, SoundSettings Settings)? Beside);

    private Plan? Understand(Request request, Voice voice)
    {
        List<WordFault> faults = [];
        (Voice moved, ImmutableArray<WordFault> unmoved) = ControlMoves.Apply(voice, request.Set);
        faults.AddRange(unmoved);
        (ImmutableArray<Strip> strips, ImmutableArray<WordFault> unmixed) = Strip.Mixer(voice, request.Mix, request.Place, request.Stand);
        faults.AddRange(unmixed);
        List<Modulation> moves = [];
        foreach (string text in request.Move)
        {
            (Modulation? move, WordFault? fault) = Modulation.Read(voice, text);
            if (move is not null)
                moves.Add(move);
            else
                faults.Add(fault!);
        }
        Score? score = ReadScore(request, faults);
        UnrestRequest unrest = request.Unrest ?? UnrestRequest.None;
        SoundSettings settings = new(score ?? new([], 0), strips, [.. moves], request.Rate, 1200 * request.Octave + request.Fine, request.Glide, request.Attack, request.Release)
            { HasNoise = unrest.HasNoise, NoiseSeed = request.Seed, Course = unrest.Read(request.Kelvin, faults) };
        bool isReadable = true;
        (Voice, Voice, SoundSettings)? beside = request.Beside is null or Ideal ? null
            : BuildBeside(request.Beside) is not null ? (voice, moved, settings)
            : ReadBeside(request.Beside, settings, faults, out isReadable);
        VoiceInput.Complain(screen, "listen", faults);
        return faults.Count > 0 || !isReadable ? null : new(moved, settings, beside);
    }

    // Another voice takes over levels, places and intervals strip by strip, with its own first outputs or those of the same label.
    private (Voice, Voice, SoundSettings)? ReadBeside(string folder, SoundSettings settings, List<WordFault> faults, out bool isReadable)
    {
        (Voice? voice, _, ImmutableArray<InputError> errors) = read(folder);
        screen.Complain(errors);
        isReadable = voice is not null;
        if (voice is null)
            return null;
        (ImmutableArray<Strip> own, _) = Strip.Mixer(voice, [], [], []);
        if (own.Length < settings.Strips.Length)
            faults.Add(new($"{folder} has {own.Length} oscillators beside {settings.Strips.Length} strips", "name fewer outputs with --mix"));
        foreach (Modulation move in settings.Moves.Where(move => voice.Players.All(player => player.Name != move.Player)))
            faults.Add(new($"{folder} has no player '{move.Player}' to move", $"one of {string.Join(", ", voice.Players.Where(player => !player.IsPitch).Select(player => player.Name))}"));
        return (voice, voice, settings with { Strips = [.. settings.Strips.Zip(own, (strip, mine) => strip with { Oscillator = mine.Oscillator, Output = OutputLike(voice, mine, strip.Output) })] });
    }

    private static string OutputLike(Voice voice, Strip mine, string label) =>
        Engine.Scope.Channel.Outputs(voice.Members.First(member => member.Name == mine.Oscillator).Module).Contains(label) ? label : mine.Output;

    private static Score? ReadScore(Request request, List<WordFault> faults)
    {
        if (request.Midi is null)
        {
            (Score? listed, ImmutableArray<WordFault> unread) = Score.Read(request.Notes);
            faults.AddRange(unread);
            return listed;
        }
        try
        {
            (Score? score, WordFault? fault) = MidiFile.Read(File.ReadAllBytes(request.Midi), request.Channel);
            if (fault is not null)
                faults.Add(fault with { What = $"{request.Midi}: {fault.What}" });
            return score;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            faults.Add(new($"{request.Midi}: cannot be read: {e.Message}", "name a Standard MIDI File"));
            return null;
        }
    }

    private int Failed(string folder, ProgressLine progress, SolveFailure failure)
    {
        progress.Dispose();
        screen.Complain($"{folder}: {failure}\n  mend: look at the voltages there with 'consort scope', or play other notes");
        return Exit.NotComputed;
    }

    private bool Wrote(Request request, string file, Rendering sound, double full) =>
        screen.Wrote(file, () => WholeFile.Write(file, beside =>
        {
            using FileStream stream = new(beside, FileMode.Create);
            WavFile.Write(stream, sound.Samples(full), 2, sound.Settings.Rate, request.Format, seed: 1);
        }));
}
