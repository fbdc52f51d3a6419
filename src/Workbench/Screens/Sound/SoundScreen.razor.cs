using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Live;
using Consort.Engine.Sound.Playing;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Consort.Workbench.Screens.Sound;

using Voice = Engine.Design.Voice; // and not the screen's folder

/// <summary>What does it sound like? The circuits are read once; then keys and controls play what was read.</summary>
public sealed partial class SoundScreen
{
    private static readonly int[] Shown = [33, 57, 81];

    private readonly Dictionary<string, string> outputs = [];
    private IJSObjectReference? script;
    private SoundLine? line;
    private string? trouble;
    private string what = "";
    private string set = "";
    private bool withUnrest;
    private long revision;
    private int ahead = 4096;
    private int octave = 3;

    [Inject]
    private SoundDesk Desk { get; set; } = null!;

    [Inject]
    private IJSRuntime Browser { get; set; } = null!;

    private ImmutableArray<Strip> Mixer(Voice voice) =>
        [.. Strip.Mixer(voice, [], [], []).Strips.Select(strip => outputs.TryGetValue(strip.Oscillator, out string? output) ? strip with { Output = output } : strip)];

    private static ImmutableArray<string> OutputsOf(Voice voice, string member) => Channel.Outputs(voice.Members.First(one => one.Name == member).Module);

    private SoundLaw LawOf(Strip strip) => line!.Voice.Laws.First(law => law.Oscillator.Name == strip.Oscillator);

    private double VoltsOf(int key) => LawReader.VoltsOf(line!.Voice.Laws[0].Oscillator, key);

    // In the middle of the keyboard, warmer or colder by all that the control can do.
    private double DriftOf(SoundLaw law, double kelvins) => law.Drift!.Cents(line!.Voice.Kelvin + kelvins, 0.5 * (line.Voice.LowVolts + line.Voice.HighVolts));

    // At the middle one of the notes shown.
    private string SyncOf(Strip strip)
    {
        HeardOscillator heard = HeardOscillator.Of(line!.Voice.Laws, line.Voice.Settings.Strips, strip);
        double volts = VoltsOf(Shown[Shown.Length / 2]);
        return heard.Holding(volts) is null ? "free" : SyncWords.Range(heard.HeldRange(volts)).Replace('-', '−');
    }

    private static string NoteOf(int key) => NoteName.Write(key);

    private async Task Ready(ReadDesign design)
    {
        await Call("stop");
        (Voice moved, ImmutableArray<WordFault> faults) = ControlMoves.Apply(design.Voice, WordList.Of(set));
        trouble = faults.IsEmpty ? null : string.Join("; ", faults.Select(fault => $"{fault.What}: {fault.Mend}"));
        if (trouble is not null)
            return;
        (double kelvin, long? build, ImmutableArray<Strip> mixer, bool unrest) = (Selection.Kelvin, Selection.Build, Mixer(design.Voice), withUnrest);
        bool isDone = await Run("trimming", async (progress, cancel) =>
        {
            (SoundingVoice? live, SolveFailure? failure) = await Task.Run(() => Read(design, moved, build, kelvin, mixer, unrest, progress, cancel), cancel);
            Take(design, live, failure, build);
        });
        if (!isDone)
            trouble = "cancelled";
    }

    private (SoundingVoice?, SolveFailure?) Read(ReadDesign design, Voice moved, long? build, double kelvin, ImmutableArray<Strip> mixer, bool unrest, IProgress<(string Stage, double Done)> progress, CancellationToken cancel)
    {
        int threads = Environment.ProcessorCount;
        (PlayedVoice? played, SolveFailure? failure) = build is { } number
            ? ReadyVoice.Of(design.Voice, moved, new BuildPick(design.Stock, number), kelvin, threads)
            : ReadyVoice.Of(design.Voice, moved, trims: true, kelvin, threads);
        return played is null ? (null, failure) : SoundingVoice.Of(played, mixer, threads, progress, cancel, unrest);
    }

    private void Take(ReadDesign design, SoundingVoice? live, SolveFailure? failure, long? build)
    {
        if (live is null)
        {
            trouble = failure!.ToString();
            return;
        }
        if (line is not null)
            Desk.Close(line);
        line = Desk.Open(live);
        (what, revision) = (build is { } number ? $"{live.Name}, build {number}," : live.Name, design.Revision);
    }

    private Task Start() => line is null ? Task.CompletedTask : Call("start", line.Token, ahead);

    private Task Stop() => Call("stop");

    private Task Octave(ChangeEventArgs change)
    {
        octave = int.Parse($"{change.Value}", CultureInfo.InvariantCulture);
        return Call("setOctave", octave);
    }

    private async Task Call(string name, params object?[] arguments)
    {
        script ??= await Browser.InvokeAsync<IJSObjectReference>("import", "/screens/Sound/sound.js");
        await script.InvokeVoidAsync(name, arguments);
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        if (line is not null)
            Desk.Close(line);
        if (script is not null)
            _ = Silence(script);
    }

    private static async Task Silence(IJSObjectReference script)
    {
        try
        {
            await script.InvokeVoidAsync("stop");
            await script.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // the tab is gone, and its sound with it
        }
    }
}
