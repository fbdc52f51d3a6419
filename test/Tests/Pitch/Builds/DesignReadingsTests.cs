using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

/// <summary>What a trimmed voice's transients give.</summary>
public sealed class DesignReadingsTests
{
    [Fact]
    public void Oscillators_of_one_kind_drift_alike()
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet"));
        (PlayedVoice? played, _, SolveFailure? failure) = ReadyVoice.Trimmed(voice!, 1);
        Assert.True(played is not null, failure?.ToString());
        double[][][] read = Read(played, alikeDrift: false), taken = Read(played, alikeDrift: true);
        for (int o = 0; o < read.Length; o++)
            for (int k = 0; k < read[o].Length; k++)
                for (int n = 0; n < read[o][k].Length; n++)
                    Assert.Equal(0, 1200 * Math.Log2(taken[o][k][n] / read[o][k][n]), 0.02);
        // The third and fourth are taken from the second; a reading of their own would differ in the last places.
        Assert.NotEqual(read[3][1], taken[3][1]);
        Assert.Equal(read[1], taken[1]);
    }

    private static double[][][] Read(PlayedVoice played, bool alikeDrift)
    {
        DesignReadings readings = new(played, ReadyBuilds.Temperatures, [1, 5]) { AlikeDrift = alikeDrift };
        Assert.Null(readings.Complete(played, 1));
        return readings.Hertz;
    }
}
