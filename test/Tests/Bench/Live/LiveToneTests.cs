using Consort.Engine.Bench.Live;
using Consort.Tests.Measuring.Tones;
using Xunit;

namespace Consort.Tests.Measuring.Live;

public sealed class LiveToneTests
{
    private const double Rate = 48000;
    private const int Chunk = 2048; // what a browser hands over at once

    private static List<LiveReading?> Heard(double[] samples)
    {
        LiveTone live = new(Rate);
        List<LiveReading?> readings = [];
        for (int at = 0, chunk = 0; at + Chunk <= samples.Length; at += Chunk, chunk++)
        {
            live.Add([.. samples.AsSpan(at, Chunk).ToArray().Select(sample => (float)sample)]);
            if (chunk % 4 == 3)
                readings.Add(live.Read());
        }
        return readings;
    }

    [Fact]
    public void A_note_that_stands_is_heard_and_held_to_a_hundredth_of_a_cent()
    {
        MadeTone tone = new MadeTone(3, 96000).Add("saw", 261.3, 0.4).Noise(1e-3);
        LiveReading last = Heard(tone.Samples)[^1]!;
        Assert.True(last.IsSteady);
        Assert.Equal(0, 1200 * Math.Log2(last.Tone.Frequency.Value / 261.3), 0.01);
        Assert.InRange(last.Wander, 0, 0.1);
    }

    [Fact]
    public void A_note_that_slides_is_heard_and_not_held()
    {
        // 3 Hz a second at 261 Hz are 20 cents a second.
        MadeTone tone = new MadeTone(3, 96000).Add("saw", 261.3, 0.4, slide: 3).Noise(1e-3);
        LiveReading last = Heard(tone.Samples)[^1]!;
        Assert.False(last.IsSteady);
        Assert.InRange(last.Wander, 5, 20);
    }

    [Fact]
    public void Noise_is_no_note_and_a_gap_begins_anew()
    {
        Assert.All(Heard(new MadeTone(3, 48000).Noise(0.1).Samples), reading => Assert.False(reading is { IsSteady: true }));
        LiveTone live = new(Rate);
        live.Add([.. new MadeTone(3, 48000).Add("sine", 440).Samples.Select(sample => (float)sample)]);
        Assert.NotNull(live.Read());
        live.Forget();
        Assert.Null(live.Read());
    }
}
