using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

/// <summary>Voices made ready for builds.</summary>
internal static class ReadyBuilds
{
    /// <summary>Bench, cold, warm, K.</summary>
    public static readonly double[] Temperatures = [298.15, 288.15, 308.15];

    /// <summary>An example with its shelf, trimmed.</summary>
    public static VoiceBuilds OfExample(string name, int threads)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", name));
        return Of(voice!, stock!, Prover.Notes(voice!), threads);
    }

    /// <summary>A voice, trimmed.</summary>
    public static VoiceBuilds Of(Voice voice, Stock stock, double[] volts, int threads = 1)
    {
        (PlayedVoice? played, _, SolveFailure? untrimmed) = ReadyVoice.Trimmed(voice, threads);
        Assert.True(played is not null, untrimmed?.ToString());
        (VoiceBuilds? builds, SolveFailure? failure) = VoiceBuilds.Find(played, stock, new(played, Temperatures, volts), threads);
        Assert.True(builds is not null, failure?.ToString());
        return builds;
    }
}
