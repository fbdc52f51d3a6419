using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Cores;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.PitchPath;
using Consort.Engine.Pitch.Builds.Trimming;

namespace Consort.Engine.Pitch.Builds;

/// <summary>All that is needed to make builds of a voice and to read them; threads share it.</summary>
internal sealed class VoiceBuilds
{
    private readonly int[] needed; // drawn parameters of the voice that any oscillator takes
    private readonly int[][] pathParameters;
    private readonly int[][] coreParameters;

    private VoiceBuilds(PlayedVoice voice, VoicePaths paths, CoreLaw[] laws, DrawPlan all, TrimSheet[]? sheets = null)
    {
        (Voice, Paths, Laws, AllDraws) = (voice, paths, laws, all);
        needed = [.. paths.Plans.SelectMany(plan => plan.Reach.Parameters).Concat(laws.SelectMany(law => law.Parameters)).Distinct().Order()];
        Draws = all.Of(needed);
        pathParameters = [.. paths.Plans.Select(plan => Places(plan.Reach.Parameters))];
        coreParameters = [.. laws.Select(law => Places(law.Parameters))];
        Order = VoiceTrimming.Order(voice);
        // Of the design itself, whatever is drawn about it.
        Sheets = sheets ?? [.. Enumerable.Range(0, laws.Length).Select(o => TrimSheet.Of(paths, o, Reader<One>(o, isDesign: true)))];
    }

    private int[] Places(int[] parameters) => [.. parameters.Select(p => Array.BinarySearch(needed, p))];

    /// <summary>The voice in its design state, trimmed.</summary>
    public PlayedVoice Voice { get; }

    /// <summary>What its timing currents hang on.</summary>
    public VoicePaths Paths { get; }

    /// <summary>What its cores make of them.</summary>
    public CoreLaw[] Laws { get; }

    /// <summary>How each oscillator is trimmed.</summary>
    public TrimSheet[] Sheets { get; }

    /// <summary>Oscillators in the order in which they are trimmed: leads first.</summary>
    public int[] Order { get; }

    /// <summary>What differs between builds, as far as it matters to any oscillator.</summary>
    public DrawPlan Draws { get; }

    /// <summary>All that differs between builds.</summary>
    public DrawPlan AllDraws { get; }

    /// <summary>Temperatures, the bench's first, K.</summary>
    public double[] Kelvins => Paths.Plans[0].Kelvins;

    /// <summary>Keyboard voltages, V.</summary>
    public double[] Volts => Paths.Plans[0].Volts;

    /// <summary>Makes a voice ready.</summary>
    /// <param name="voice">Prepared and trimmed.</param>
    /// <param name="stock">The shelf that its parts come from.</param>
    /// <param name="readings">What its transients give; notes are added where a trimmer is set.</param>
    /// <param name="threads">How many threads may work; the result does not depend on it.</param>
    /// <param name="change">Changes the plan of draws; null leaves it.</param>
    public static (VoiceBuilds? Builds, SolveFailure? Failure) Find(
        PlayedVoice voice,
        Stock stock,
        DesignReadings readings,
        int threads,
        Func<DrawPlan, DrawPlan>? change = null
    )
    {
        (CoreLaws? cores, SolveFailure? failure) = Cores(voice, stock, readings, threads, change);
        if (cores is null)
            return (null, failure);
        (CoreLaw[]? laws, failure) = cores.Find();
        return laws is null ? (null, failure) : (Of(cores, laws), null);
    }

    /// <summary>All but the laws of its cores.</summary>
    public static (CoreLaws? Cores, SolveFailure? Failure) Cores(
        PlayedVoice voice,
        Stock stock,
        DesignReadings readings,
        int threads,
        Func<DrawPlan, DrawPlan>? change = null
    )
    {
        if (readings.Complete(voice, threads) is { } unread)
            return (null, unread);
        (VoicePaths? paths, SolveFailure? failure) = VoicePaths.Find(voice.Twin(), stock, readings.Kelvins, readings.Volts, change);
        return paths is null ? (null, failure) : (new(voice, paths, readings.Hertz, threads), null);
    }

    /// <summary>A voice whose cores' laws are known.</summary>
    public static VoiceBuilds Of(CoreLaws cores, CoreLaw[] laws) => new(cores.Voice, cores.Paths, laws, cores.Paths.Draws);

    /// <summary>The same voice built from parts with other limits, none wider than those it was made ready with.</summary>
    public VoiceBuilds Graded(IReadOnlyDictionary<(string Part, string Word), double> widths) =>
        new(Voice, Paths, Laws, AllDraws.WithWidths(widths), Sheets);

    /// <summary>A voice of the same wiring whose parts' values or limits, or the pitch that oscillators are asked for, were changed
    /// since, by the laws of this one.</summary>
    /// <param name="edited">The changed voice, compiled.</param>
    /// <param name="draws">Its draws, as this one's plan has them.</param>
    public VoiceBuilds Edited(PlayedVoice edited, DrawPlan draws) =>
        new(edited, Paths, [.. Laws.Select((law, o) => law.Against(edited.Oscillators[o], Volts))], draws, Sheets);

    /// <summary>A reader of one oscillator, for one thread.</summary>
    public BuildReader<T> Reader<T>(int oscillator)
        where T : struct, ILanes<T> => Reader<T>(oscillator, isDesign: false);

    private BuildReader<T> Reader<T>(int oscillator, bool isDesign)
        where T : struct, ILanes<T>
    {
        BuildReader<T> reader = new(Paths.Kernel<T>(oscillator), Laws[oscillator], pathParameters[oscillator], coreParameters[oscillator]);
        if (isDesign)
        {
            reader.Take(new T[needed.Length]);
            reader.SetTemperature(0);
        }
        return reader;
    }
}
