using System.Collections.Immutable;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;
using Consort.Tests.Circuit;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Scope;

public sealed class ScopeRunTests
{
    private static readonly Lazy<PlayedVoice> Toy = new(() =>
    {
        PlayedVoice voice = PlayedVoice.Of(ToyVoice.OnMultiple(2, ToyVoice.Oscillator("toy", "100k")));
        Assert.Null(voice.Prepare());
        return voice;
    });

    private static ScopeRecord Take(ScopeSettings settings, params string[] names)
    {
        PlayedVoice voice = Toy.Value.Twin(Accuracy.Default);
        (ImmutableArray<Channel> channels, ImmutableArray<WordFault> faults) = Channel.Find(voice.Voice, voice.Circuit, names);
        Assert.Empty(faults);
        (ScopeRecord? record, Engine.Circuit.SolveFailure? failure) = ScopeRun.Take(voice, channels, channels[0], settings, cancel: TestContext.Current.CancellationToken);
        Assert.Null(failure);
        return record!;
    }

    [Fact]
    public void A_trace_has_the_frequency_at_which_the_whole_voice_is_counted()
    {
        (VoiceReading? counted, _) = Toy.Value.Twin().Read(2);
        ScopeRecord record = Take(new(2), "o1/core", "o2/core");
        for (int i = 0; i < 2; i++)
            // Accuracy of the two runs: 0.01 cent is 6e-6.
            Expect.Relative(counted!.Hertz[i], record.Traces[i].Reading.Hertz, 2e-5);
        // 5 V and half of the comparator's hysteresis of 0.2 V, and what runs past in 1 µs of delay.
        Expect.Within(5.1, record.Traces[0].Reading.Levels.Highest, 0.01);
    }

    [Fact]
    public void The_sweep_begins_a_division_before_the_trigger_and_shows_ten()
    {
        ScopeRecord record = Take(new(2, 0.05, null, new(Rising: true, Level: 2.0)), "o1/core");
        Assert.True(record.Triggered);
        Assert.Equal(-0.05, record.From, 1e-12);
        Assert.Equal(0.45, record.To, 1e-12);
        Expect.Within(2.0, At(record, 0), 1e-6);
        Assert.True(At(record, 0.01) > 2.0);
    }

    [Fact]
    public void A_falling_trigger_finds_the_reset()
    {
        ScopeRecord record = Take(new(2, 1e-6, null, new(Rising: false, Level: 2.5)), "o1/core");
        Assert.True(record.Triggered);
        Expect.Within(2.5, At(record, 0), 1e-3);
        Assert.True(At(record, 0.2e-6) < 2.5);
        // Half an ohm drains 100 nF with 50 ns: 10 to 90 % lasts ln 9 of them, the switch's own turn of 100 ns more.
        Assert.InRange(record.Traces[0].Reading.FallSeconds, 0.1e-6, 0.3e-6);
    }

    [Fact]
    public void A_trigger_that_never_comes_is_told()
    {
        ScopeRecord record = Take(new(2, null, null, new(Rising: true, Level: 9.0)), "o1/core");
        Assert.False(record.Triggered);
        Assert.NotEmpty(record.Shown(record.Traces[0]));
    }

    [Fact]
    public void A_jack_is_probed_against_its_sleeve_and_a_net_against_its_modules_ground()
    {
        PlayedVoice voice = Toy.Value;
        (ImmutableArray<Channel> channels, _) = Channel.Find(voice.Voice, voice.Circuit, ["o1/pitch", "o2/core", "keyboard/out"]);
        Assert.Equal(voice.Circuit.Net("o1/in"), channels[0].Tip);
        Assert.Equal(voice.Circuit.Net("o1/0 V"), channels[0].Clip);
        Assert.Equal(voice.Circuit.Net("o2/0 V"), channels[1].Clip);
        Assert.Equal(0, channels[2].Clip);
    }

    [Fact]
    public void An_unknown_name_is_answered_with_a_near_one()
    {
        (_, ImmutableArray<WordFault> faults) = Channel.Find(Toy.Value.Voice, Toy.Value.Circuit, ["o1/croe", "o7/saw"]);
        Assert.Equal("did you mean 'o1/core'?", faults[0].Mend);
        Assert.Equal(2, faults.Length);
    }

    [Fact]
    public void The_picture_is_drawn_light_and_dark_and_the_csv_holds_what_is_shown()
    {
        ScopeRecord record = Take(new(2, 0.05), "o1/core", "o2/core");
        foreach (bool dark in (bool[])[false, true])
        {
            string svg = ScopePicture.Svg(record, dark);
            Assert.Contains("<svg", svg, StringComparison.Ordinal);
            Assert.Contains("</svg>", svg, StringComparison.Ordinal);
        }
        byte[] png = ScopePicture.Png(record, dark: false);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], png[..4]);
        string[] lines = ScopeWords.Csv(record).Split("\r\n");
        Assert.Equal("time s,o1/core V,o2/core V", lines[0]);
        Assert.Equal(record.Times.Count(t => t >= record.From && t <= record.To) + 2, lines.Length); // header and an empty end
    }

    private static double At(ScopeRecord record, double time)
    {
        int i = Array.FindIndex(record.Times, t => t >= time);
        double share = (time - record.Times[i - 1]) / (record.Times[i] - record.Times[i - 1]);
        return record.Traces[0].Volts[i - 1] + share * (record.Traces[0].Volts[i] - record.Traces[0].Volts[i - 1]);
    }
}
