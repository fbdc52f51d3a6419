using System.Collections.Immutable;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Design;
using Consort.Engine.Sound.Drift;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Live;
using Consort.Engine.Sound.Noise;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Shapes;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Live;

/// <summary>What is played live, against what is rendered of a score and against laws told by hand.</summary>
public sealed class LiveRendererTests
{
    private const double Rate = 48_000;

    private static SoundLaw Law(int oscillator, WaveShape shape, SyncLaw? sync = null) =>
        new(SoundingToy.Played.Oscillators[oscillator], new(SoundingToy.Played.Oscillators[oscillator], []),
            ImmutableDictionary<string, WaveLaw>.Empty.Add("out", WaveLaw.Of(shape)), [], sync);

    private static LiveRenderer Sine() => new(new(new([], 0), [new("o1", "out", 1, 0, 0)], []), [Law(0, WaveShape.Sine)], []);

    private static float[] Fill(LiveRenderer live, int samples, int chunk = 997)
    {
        float[] both = new float[2 * samples];
        for (int at = 0; at < samples; at += chunk)
            live.Fill(both.AsSpan(2 * at, 2 * Math.Min(chunk, samples - at)));
        return both;
    }

    private static double[] Left(float[] both) => [.. Enumerable.Range(0, both.Length / 2).Select(n => (double)both[2 * n])];

    private static double Pitch(double[] samples)
    {
        (ToneReading? reading, string? why) = ToneEstimator.One(samples, Rate);
        Assert.True(reading is not null, why);
        return reading.Frequency.Value;
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(0.05, false)]
    [InlineData(0, true)]
    public void Live_blocks_are_the_rendering_of_the_same_score(double glide, bool noise)
    {
        (ImmutableArray<Strip> strips, _) = Strip.Mixer(SoundingToy.Voice, ["o1/pulse", "o2/saw=-6 dB"], ["o1=-50%"], ["o2=+7 cents"]);
        Score score = new([new(0, 57), new(0.4003, 64), new(0.6, null), new(0.75, 50), new(1.2, null)], 1.2);
        SoundSettings settings = new(score, strips, [], Glide: glide) { HasNoise = noise };
        (ImmutableArray<SoundLaw> laws, _) = new LawReader(SoundingToy.Played.Twin(), settings, 1).Read(null, TestContext.Current.CancellationToken);
        (float[] left, float[] right) = new Renderer(settings, laws, []).Run(null, TestContext.Current.CancellationToken);
        LiveRenderer live = new(settings, laws, [], LawReader.VoltsOf(laws[0].Oscillator, 57));
        foreach (Touch touch in score.Touches)
            live.Touch(touch.Key, (long)Math.Round(touch.Seconds * Rate));
        float[] played = Fill(live, left.Length);
        for (int n = 0; n < left.Length; n++)
        {
            // The level rises from nothing with 50 ms; floats and sums of rounding are left, 120 dB below full scale.
            double scale = live.Controls.Level / live.VoltsAtFullScale * (1 - Math.Exp(-(n + 1) / (0.05 * Rate)));
            Expect.Within(scale * left[n], played[2 * n], 1e-6);
            Expect.Within(scale * right[n], played[2 * n + 1], 1e-6);
        }
    }

    [Fact]
    public void How_the_blocks_are_asked_for_changes_nothing()
    {
        float[] Play(int chunk)
        {
            LiveRenderer live = Sine();
            live.Touch(57);
            live.Touch(69, 7000);
            live.Touch(null, 15_000);
            return Fill(live, 20_000, chunk);
        }
        Assert.Equal(Play(20_000), Play(1));
        Assert.Equal(Play(20_000), Play(333));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(7)]
    [InlineData(1200)]
    [InlineData(-1187.5)]
    public void Its_pitch_is_the_laws_within_a_hundredth_of_a_cent_wherever_the_detune_stands(double cents)
    {
        LiveRenderer live = Sine();
        live.Touch(57);
        Fill(live, 4800);
        live.Controls = live.Controls with { Strips = [live.Controls.Strips[0] with { Cents = cents }] };
        Fill(live, 9600); // past the smoothing
        double[] sound = Left(Fill(live, 48_000));
        Expect.Within(0, Expect.Cents(220 * Math.Pow(2, cents / 1200), Pitch(sound)), 0.01);
    }

    [Fact]
    public void Nothing_jumps_however_controls_are_thrown_about()
    {
        LiveRenderer live = Sine();
        live.Touch(57);
        live.Controls = live.Controls with { Level = 1 };
        Random random = new(7);
        List<double> all = [];
        for (int i = 0; i < 400; i++)
        {
            LiveStrip thrown = new(2400 * random.NextDouble() - 1200, random.NextDouble(), 2 * random.NextDouble() - 1);
            live.Controls = live.Controls with { Strips = [thrown], Level = random.NextDouble(), Cents = 100 * random.Next(12) };
            all.AddRange(Left(Fill(live, random.Next(1, 700), 64)));
        }
        // A full-scale sine of at most 880 Hz moves by 2π·880/48000 = 0.115 a sample; gains by 1/480 and levels by 1/2400 at most.
        double[] steps = [.. all.Zip(all.Skip(1), (a, b) => Math.Abs(b - a))];
        Assert.InRange(steps.Max(), 0.02, 0.115 + 1.0 / 480 + 1.0 / 2400);
    }

    [Fact]
    public void It_starts_in_silence_rises_slowly_and_stays_quiet()
    {
        LiveRenderer live = Sine();
        Assert.All(Fill(live, 4800), sample => Assert.Equal(0, sample));
        LiveRenderer early = Sine();
        early.Touch(57);
        float[] first = Fill(early, 480);
        Assert.True(first.Max(Math.Abs) < 0.02, "after 10 ms");
        Assert.InRange(Fill(early, 48_000).Max(Math.Abs), 0.05, LiveControls.Quiet);
    }

    [Fact]
    public void What_would_stand_above_full_scale_is_cut_and_counted()
    {
        LiveRenderer live = Sine();
        live.Touch(57);
        live.Controls = live.Controls with { Strips = [new(0, 10, 0)], Level = 1 };
        float[] sound = Fill(live, 24_000);
        Assert.Equal(1, sound.Max(Math.Abs));
        LiveMeter meter = live.ReadMeter();
        Assert.True(meter.Overs > 1000);
        Assert.InRange(meter.Peak, 6, 10);
        live.Controls = live.Controls with { Strips = [new(0, 1, 0)] };
        Fill(live, 24_000);
        live.ReadMeter();
        Fill(live, 24_000);
        Assert.Equal(0, live.ReadMeter().Overs);
    }

    [Fact]
    public void Sync_can_be_let_go_and_taken_up_while_it_sounds()
    {
        LiveRenderer live = new(new(new([], 0), [new("o1", "out", 0, -1, 0), new("o2", "out", 1, -1, 300)], []),
            [Law(0, WaveShape.Saw), Law(1, WaveShape.Saw, SyncLaw.Reset())], []);
        live.Touch(57);
        Fill(live, 24_000);
        Expect.Within(0, Expect.Cents(220, Pitch(Left(Fill(live, 48_000)))), 0.01);
        live.Controls = live.Controls with { Strips = [live.Controls.Strips[0], live.Controls.Strips[1] with { IsSynced = false }] };
        Fill(live, 24_000);
        // The second stands 4 cents above the first, and 300 more.
        Expect.Within(304, Expect.Cents(220, Pitch(Left(Fill(live, 48_000)))), 0.01);
    }

    [Fact]
    public void It_follows_what_is_around_it_with_a_time_constant()
    {
        // 0.5 cent a kelvin: 5 cents for 10 K, of which 63.2 % is there after one time constant (Newton's law of cooling).
        DriftLaw drift = new([288.15, 298.15, 308.15], [(0, [-5, 0, 5])]);
        LiveRenderer live = new(new(new([], 0), [new("o1", "out", 1, 0, 0)], []), [Law(0, WaveShape.Sine) with { Drift = drift }], []);
        live.Touch(57);
        Fill(live, 24_000);
        live.Controls = live.Controls with { Unrest = new(0, 10, 20) };
        Fill(live, 20 * 48_000 - 24_000);
        // The mean over a second about the time constant's end: 5·(1 − e^−1·20·sinh(0.5/20)/0.5).
        Expect.Within(5 * (1 - Math.Exp(-1) * 40 * Math.Sinh(1 / 40.0)), Expect.Cents(220, Pitch(Left(Fill(live, 48_000)))), 0.01);
        live.Controls = live.Controls with { Unrest = new(0, -10, 0.01) };
        Fill(live, 24_000);
        Expect.Within(-5, Expect.Cents(220, Pitch(Left(Fill(live, 48_000)))), 0.01);
    }

    [Fact]
    public void Noise_is_as_many_times_the_circuits_own_as_it_is_set_to()
    {
        NoiseLaw noise = new([new(0, 220, 0, 0, 0, [], 0)], [new("out", 1e-3, "", 1)], [1]);
        double Power(double times)
        {
            LiveRenderer live = new(new(new([], 0), [new("o1", "out", 1, 0, 0)], []), [Law(0, WaveShape.Sine) with { Noise = noise }], []);
            LiveRenderer still = new(new(new([], 0), [new("o1", "out", 1, 0, 0)], []), [Law(0, WaveShape.Sine)], []);
            live.Controls = live.Controls with { Unrest = new(times) };
            live.Touch(57);
            still.Touch(57);
            return Fill(live, 96_000).Zip(Fill(still, 96_000), (a, b) => Math.Pow(a - b, 2)).Average();
        }
        Assert.Equal(0, Power(0));
        Expect.Relative(100, Power(10) / Power(1), 1e-3); // the same numbers: floats' rounding alone
    }

    [Fact]
    public void A_whole_keyboard_is_read_with_what_players_can_do()
    {
        (ImmutableArray<Strip> strips, _) = Strip.Mixer(SoundingToy.Voice, ["o1/pulse"], [], []);
        (SoundingVoice? voice, _) = SoundingVoice.Of(SoundingToy.Played.Twin(), strips, 1, null, TestContext.Current.CancellationToken);
        Assert.Equal(["wheel", "shake"], voice!.Settings.Moves.Select(move => move.Player));
        Assert.True(voice.Laws[0].Moves[0].Edges.ContainsKey("pulse"));
        Assert.True(voice.Laws[0].Moves[1].MovesPitch);
        Expect.Within(0, LawReader.VoltsOf(voice.Laws[0].Oscillator, SoundingVoice.KeyOf(voice.Laws[0].Oscillator, 3.3)) - 3.3, 1e-12);
        // 10 % a volt: the wheel's neighbour at +2 V plays a fifth of the frequency higher.
        LiveRenderer live = voice.Player();
        live.Touch(57);
        live.Controls = live.Controls with { Moves = [new(0.5), new(2)] };
        Fill(live, 24_000);
        double law = voice.Laws[0].Pitch.Hertz(Math.Log2(2.2)) * voice.Laws[0].Moves[1].Ratio(2);
        Expect.Within(0, Expect.Cents(law, Pitch(Left(Fill(live, 48_000)))), 0.01);
        Expect.Relative(1.2, voice.Laws[0].Moves[1].Ratio(2), 1e-3);
    }
}
