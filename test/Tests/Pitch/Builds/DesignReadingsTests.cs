using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.PitchPath;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

/// <summary>What a trimmed voice's transients give.</summary>
public sealed class DesignReadingsTests
{
    [Fact]
    public void Oscillators_of_one_kind_drift_alike_beside_their_own_currents()
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet"));
        (PlayedVoice? played, _, SolveFailure? failure) = ReadyVoice.Trimmed(voice!, 1);
        Assert.True(played is not null, failure?.ToString());
        DesignReadings read = new(played, ReadyBuilds.Temperatures, [1, 5]), taken = new(played, ReadyBuilds.Temperatures, [1, 5]);
        Assert.Null(read.Complete(played, 2));
        Assert.Null(taken.CompleteBench(played));
        (VoicePaths? paths, _) = VoicePaths.Find(played.Twin(), Stock.Empty, read.Kelvins, read.Volts);
        for (int o = 2; o < 4; o++)
        {
            Assert.True(taken.DriftAs(o, paths!.Plans[o].Currents, read, 1, paths.Plans[1].Currents));
            for (int k = 0; k < read.Kelvins.Length; k++)
                for (int n = 0; n < read.Volts.Length; n++)
                    Assert.Equal(0, 1200 * Math.Log2(taken.Hertz[o][k][n] / read.Hertz[o][k][n]), 0.01);
            Assert.NotEqual(read.Hertz[o][1], taken.Hertz[o][1]);
        }
    }

    [Fact]
    public void One_drifts_alike_in_and_out_of_a_link()
    {
        (Voice? quartet, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet"));
        (DesignReadings linked, double[][] currents) = Lead(quartet!);
        (DesignReadings lone, double[][] its) = Lead(quartet! with { Members = [quartet.Members[0]], Ribbons = [] });
        double[][] read = [.. lone.Hertz[0].Select(row => row.ToArray())];
        Assert.True(lone.DriftAs(0, its, linked, 0, currents));
        for (int k = 1; k < read.Length; k++)
        {
            Assert.NotEqual(read[k], lone.Hertz[0][k]);
            for (int n = 0; n < read[k].Length; n++)
                Assert.Equal(0, 1200 * Math.Log2(lone.Hertz[0][k][n] / read[k][n]), 0.01);
        }
    }

    private static (DesignReadings Readings, double[][] Currents) Lead(Voice voice)
    {
        (PlayedVoice? played, _, SolveFailure? failure) = ReadyVoice.Trimmed(voice, 1);
        Assert.True(played is not null, failure?.ToString());
        DesignReadings readings = new(played, ReadyBuilds.Temperatures, [1, 5]);
        Assert.Null(readings.ReadOne(played, 0, [0, 1, 2]));
        (VoicePaths? paths, _) = VoicePaths.Find(played.Twin(), Stock.Empty, readings.Kelvins, readings.Volts);
        return (readings, paths!.Plans[0].Currents);
    }

    [Fact]
    public void One_that_was_not_read_at_the_same_notes_tells_nothing()
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair"));
        PlayedVoice played = PlayedVoice.Of(voice!, TestContext.Current.CancellationToken);
        DesignReadings one = new(played, ReadyBuilds.Temperatures, [1, 4.25]), other = new(played, ReadyBuilds.Temperatures, [1]);
        Assert.False(one.DriftAs(0, [], other, 0, []));
    }
}
