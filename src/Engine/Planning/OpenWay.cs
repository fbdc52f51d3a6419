using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Cores;
using Consort.Engine.Pitch.Builds.PitchPath;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Planning;

/// <summary>One way of wiring on its way to builds: its pitch paths, and what its oscillators do at each temperature.</summary>
internal sealed class OpenWay
{
    private readonly PlayedVoice voice;
    private readonly DesignReadings readings;
    private readonly SolveFailure?[][] unread; // by oscillator and temperature

    private OpenWay(PlayedVoice voice, DesignReadings readings) =>
        (this.voice, this.readings, unread) = (voice, readings, [.. voice.Oscillators.Select(_ => new SolveFailure?[Kelvins])]);

    /// <summary>How many temperatures are looked at: the bench's, cold and warm.</summary>
    public const int Kelvins = 3;

    /// <summary>The pitch paths; null when they could not be computed.</summary>
    public VoicePaths? Paths { get; private init; }

    /// <summary>The laws of its cores, once their drift is known.</summary>
    public CoreLaws? Cores { get; private set; }

    /// <summary>Largest error of any of its oscillators, cents.</summary>
    public required double WorstCents { get; init; }

    /// <summary>How many oscillators it has.</summary>
    public int Oscillators => voice.Oscillators.Length;

    /// <summary>Why there are none.</summary>
    public SolveFailure? Failure { get; private set; }

    /// <summary>Of a way that is trimmed in place.</summary>
    public static OpenWay Of(TrimmedWay way, SpreadRequest request)
    {
        Limits limits = way.Played.Voice.Limits;
        DesignReadings readings = new(way.Played, [Prover.BenchKelvin, limits.ColdKelvin, limits.WarmKelvin], way.Curves[0].Points.Select(point => point.ControlVolts));
        for (int o = 0; o < way.Curves.Length; o++)
        {
            readings.Take(o, way.Sheets[o]);
            readings.Take(o, way.Curves[o]);
        }
        (VoicePaths? paths, SolveFailure? failure) = VoicePaths.Find(way.Played.Twin(), request.Stock, readings.Kelvins, readings.Volts);
        return new(way.Played, readings) { WorstCents = way.WorstCents, Paths = paths, Failure = failure ?? readings.CompleteBench(way.Played) };
    }

    /// <summary>What oscillators have in common that are of one module and set alike.</summary>
    public string Module(int oscillator) => CoreKind.OfModule(voice, oscillator);

    /// <summary>What they have in common that are in the same place of a link as well.</summary>
    public string Kind(int oscillator) => CoreKind.Of(voice, oscillator);

    /// <summary>Reads one oscillator at one of the temperatures beside the bench's; any threads may read others meanwhile.</summary>
    public void ReadDrift(int oscillator, int kelvin) => unread[oscillator][kelvin] = readings.ReadOne(voice, oscillator, [kelvin]);

    /// <summary>Surveys one oscillator's core.</summary>
    public (KnownCore? Core, SolveFailure? Failure) Survey(int oscillator) => Cores is { } cores ? cores.Survey(oscillator) : (null, Failure);

    /// <summary>True when a core that was surveyed in another place of a link tells of one of its own.</summary>
    public bool IsToldBy(KnownCore core, int oscillator) => Cores is { } cores && cores.ServesElsewhere(core, oscillator);

    /// <summary>Takes over how the cores drift from one of each module, and finds their laws; one whose notes that one lacks is read
    /// itself.</summary>
    public void TakeDrift(Func<string, (OpenWay Way, int Oscillator)> first)
    {
        Failure ??= unread.SelectMany(failures => failures).FirstOrDefault(failure => failure is not null);
        for (int o = 0; o < voice.Oscillators.Length && Failure is null; o++)
        {
            (OpenWay way, int other) = first(Module(o));
            if (way == this && other == o)
                continue;
            if (way.unread[other].Any(failure => failure is not null) || !readings.DriftAs(o, Paths!.Plans[o].Currents, way.readings, other, way.Paths!.Plans[other].Currents))
                Failure = readings.ReadOne(voice, o, Enumerable.Range(1, Kelvins - 1));
        }
        if (Failure is null)
            Cores = new(voice, Paths!, readings.Hertz, 1);
    }
}
