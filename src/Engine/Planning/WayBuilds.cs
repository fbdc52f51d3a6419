using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Planning;

/// <summary>What builds of a voice wired one way do.</summary>
/// <param name="Yield">Share of them that keep the voice's limits of tracking, drift and followers; null when it could not be computed.</param>
/// <param name="Why">Why not; empty when it was.</param>
public sealed record WayBuilds(YieldInterval? Yield, string Why)
{
    /// <summary>Makes and trims builds of a voice, and reads them over the octaves that are asked, at all three temperatures.</summary>
    /// <param name="played">Prepared, and trimmed in place.</param>
    /// <param name="curves">Its curves at the bench's temperature, by oscillator.</param>
    /// <param name="request">How many builds, of which seed and shelf.</param>
    internal static WayBuilds Of(PlayedVoice played, IReadOnlyList<TrackingCurve> curves, SpreadRequest request, CancellationToken cancel)
    {
        Limits limits = played.Voice.Limits;
        DesignReadings readings = new(played, [Prover.BenchKelvin, limits.ColdKelvin, limits.WarmKelvin], curves[0].Points.Select(point => point.ControlVolts));
        for (int o = 0; o < curves.Count; o++)
            readings.Take(o, curves[o]);
        (VoiceBuilds? builds, SolveFailure? failure) = VoiceBuilds.Find(played, request.Stock, readings, 1);
        return builds is null ? new(null, $"{failure}") : new(new SpreadStudy(builds, request).Run(1, null, cancel).Yield, "");
    }
}
