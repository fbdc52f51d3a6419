using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Noise;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Shapes;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Noise;

/// <summary>Noise as it is heard.</summary>
public sealed class PlayedNoiseTests
{
    private const double Rate = 48_000;
    private const double Hertz = 110;

    private static SoundSettings Settings(double seconds, params Strip[] strips) =>
        new(Score.Read([$"A2 {seconds} s"]).Score!, [.. strips], [], (int)Rate, Attack: 1e-3, Release: 1e-3) { HasNoise = true };

    private static SoundLaw Law(PeriodNoise? noise, params OutputNoise[] floors) =>
        new(SoundingToy.Played.Oscillators[0], new(SoundingToy.Played.Oscillators[0], []), ImmutableDictionary<string, WaveLaw>.Empty.Add("saw", WaveLaw.Of(WaveShape.Sine)), [], null)
        {
            Noise = new([noise ?? new(0, Hertz, 0, 0, 0, [], 0)], [.. floors], [1]),
        };

    private static double[] Left(SoundSettings settings, params SoundLaw[] laws)
    {
        (float[] left, _) = new Renderer(settings, [.. laws], []).Run(null, TestContext.Current.CancellationToken);
        return [.. left.Select(sample => (double)sample)];
    }

    // Moments at which a sine rises through 0, in seconds: between samples its arc is straight to 2e-9 s.
    private static double[] Rises(double[] sound) =>
        [
            .. Enumerable.Range(4800, sound.Length - 9600)
                .Where(n => sound[n] < 0 && sound[n + 1] >= 0)
                .Select(n => (n - sound[n] / (sound[n + 1] - sound[n])) / Rate),
        ];

    [Fact]
    public void The_periods_of_the_sound_have_the_jitter_of_the_law_and_its_phase_walks_as_it_says()
    {
        const double Jitter = 2e-6;
        double[] times = Rises(Left(Settings(30, new Strip("o1", "saw", 1, -1, 0)), Law(new(0, Hertz, Jitter, Jitter, 0, [], 0))));
        // White frequency noise: over k periods the variance is k times that of one (the phase is a random walk).
        foreach (int k in (int[])[1, 4, 16])
        {
            double[] spans = [.. Enumerable.Range(0, times.Length / k - 1).Select(i => times[(i + 1) * k] - times[i * k])];
            double mean = spans.Average();
            Expect.Relative(Jitter * Math.Sqrt(k), Math.Sqrt(spans.Average(span => (span - mean) * (span - mean))), 3 / Math.Sqrt(2.0 * spans.Length));
        }
    }

    [Fact]
    public void The_floor_of_an_output_stands_in_the_sound_as_strong_as_stated()
    {
        OutputNoise floor = new("saw", 1e-3, "", 1);
        SoundSettings settings = Settings(10, new Strip("o1", "saw", 1, -1, 0));
        double[] with = Left(settings, Law(null, floor));
        double[] without = Left(settings, Law(null));
        double power = Enumerable.Range(4800, 470_000).Average(n => Math.Pow(with[n] - without[n], 2));
        // White up to half the rate: of 24 kHz the band takes 19.98.
        Expect.Relative(1e-3 * Math.Sqrt(24_000 / 19_980.0), Math.Sqrt(power), 0.005);
    }

    [Fact]
    public void Two_outputs_of_one_oscillator_wander_together_and_two_oscillators_apart()
    {
        PeriodNoise noise = new(0, Hertz, 2e-6, 2e-6, 1e-8, [], 0);
        SoundLaw one = Law(noise) with { Waves = Law(null).Waves.Add("pulse", WaveLaw.Of(WaveShape.Sine)) };
        SoundLaw other = Law(noise) with { Oscillator = SoundingToy.Played.Oscillators[1] };
        (SoundLaw first, SoundLaw second) = (one with { Noise = one.Noise! with { Mix = [1, 0] } }, other with { Noise = other.Noise! with { Mix = [0, 1] } });
        double[] saw = Rises(Left(Settings(3, new Strip("o1", "saw", 1, -1, 0)), first, second));
        double[] pulse = Rises(Left(Settings(3, new Strip("o1", "pulse", 1, -1, 0)), first, second));
        Assert.Equal(saw, pulse);
        double[] apart = Rises(Left(Settings(3, new Strip("o2", "saw", 1, -1, 0)), first, second));
        double Walked(double[] times) => times[^1] - times[0] - (times.Length - 1) / Hertz;
        Assert.NotEqual(Walked(saw), Walked(apart), 1e-6);
    }

    [Fact]
    public void The_same_seed_gives_the_same_bits_at_any_thread_count_and_another_seed_others()
    {
        SoundSettings settings = Settings(0.2, new Strip("o1", "saw", 1, -1, 0), new Strip("o2", "pulse", 1, 1, 0));
        (Rendering? one, SolveFailure? failure) = Rendering.Of(SoundingToy.Played.Twin(), settings, 1, null, TestContext.Current.CancellationToken);
        (Rendering? two, _) = Rendering.Of(SoundingToy.Played.Twin(), settings, 4, null, TestContext.Current.CancellationToken);
        (Rendering? other, _) = Rendering.Of(SoundingToy.Played.Twin(), settings with { NoiseSeed = 2 }, 4, null, TestContext.Current.CancellationToken);
        Assert.True(one is not null, failure?.ToString());
        Assert.Equal(one.Left, two!.Left);
        Assert.NotEqual(one.Left, other!.Left);
    }

    [Fact]
    public void An_output_has_the_thermal_noise_of_what_it_is_driven_through()
    {
        // 100 Ω of the pulse comparator beside R8, 10 kΩ: 4kTRB with B from 20 Hz to 20 kHz (Johnson and Nyquist 1928).
        SoundSettings settings = Settings(0.1, new Strip("o1", "pulse", 1, -1, 0), new Strip("o1", "saw", 1, -1, 0));
        (ImmutableArray<SoundLaw> laws, SolveFailure? failure) = new LawReader(SoundingToy.Played.Twin(), settings, 1).Read(null, TestContext.Current.CancellationToken);
        Assert.Null(failure);
        OutputNoise pulse = laws[0].Noise!.Outputs.First(floor => floor.Output == "pulse");
        double ohms = 1 / (1 / 100.0 + 1 / 10e3);
        Expect.Relative(Math.Sqrt(4 * Constants.Boltzmann * Constants.ReferenceTemperature * ohms * 19_980), pulse.Volts, 2e-3);
        Assert.Equal("o1/U2 output thermal", pulse.Cause);
        // The saw's own charge is held: what noise does to it is jitter.
        Assert.True(laws[0].Noise!.Outputs.First(floor => floor.Output == "saw").Volts < 1e-9);
    }

    [Fact]
    public void Noise_that_two_oscillators_have_in_common_is_mixed_from_one_stream()
    {
        NoiseCause shared = new("lead/R1 thermal", 1, 3e-12, 0, 1), own = new("a", 1, 1e-12, 0, 1), others = new("b", 1, 1e-12, 0, 1);
        NoiseLaw one = new([new(0, Hertz, 2e-6, 2e-6, 0, [shared, own], 0)], [], []);
        NoiseLaw same = new([new(0, Hertz, 2e-6, 2e-6, 0, [shared, others], 0)], [], []);
        NoiseLaw against = new([new(0, Hertz, 2e-6, 2e-6, 0, [shared with { Slow = -1 }, others], 0)], [], []);
        Expect.Relative(0.75, NoiseLaw.Correlation(one, same), 1e-9); // three quarters of each one's power
        Expect.Relative(-0.75, NoiseLaw.Correlation(one, against), 1e-9);
        ImmutableArray<NoiseLaw> mixed = NoiseLaw.Mixed([one, same]);
        Assert.Equal([1, 0], mixed[0].Mix);
        Expect.Relative(0.75, mixed[1].Mix[0], 1e-9);
        Expect.Relative(1, mixed[1].Mix.Sum(share => share * share), 1e-12);
    }
}
