using System.Collections.Immutable;
using BenchmarkDotNet.Attributes;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Playing;

namespace Consort.Bench.Micro;

/// <summary>Ten seconds of the quartet at 48 kHz, its four saws as its circuits make them, one thread. Ten seconds over the
/// mean is how many times faster than it sounds it is made.</summary>
public class SoundBenchmarks
{
    private SoundSettings still = null!;
    private SoundSettings gliding = null!;
    private ImmutableArray<SoundLaw> laws;
    private ImmutableArray<SoundLaw> noisy;

    /// <summary>What was read of the quartet.</summary>
    internal ImmutableArray<SoundLaw> Laws => laws;

    [GlobalSetup]
    public void Setup()
    {
        PlayedVoice played = Examples.Play("quartet");
        (ImmutableArray<Strip> strips, _) = Strip.Mixer(played.Voice, [], [], []);
        still = new(Score.Read(["A4 10 s"]).Score!, strips, []);
        gliding = new(Score.Read([.. Enumerable.Range(0, 20).Select(i => i % 2 == 0 ? "A4 500 ms" : "E5 500 ms")]).Score!, strips, [], Glide: 0.2);
        (noisy, _) = new LawReader(played, gliding with { HasNoise = true }, 1).Read(null, CancellationToken.None);
        laws = [.. noisy.Select(law => law with { Noise = null })];
    }

    [Benchmark(Description = "10 s of four oscillators, a note held")]
    public float[] Held() => new Renderer(still, laws, []).Run(null, CancellationToken.None).Left;

    [Benchmark(Description = "10 s of four oscillators, a note held, with noise")]
    public float[] HeldNoisy() => new Renderer(still, noisy, []).Run(null, CancellationToken.None).Left;

    [Benchmark(Description = "10 s of four oscillators, gliding")]
    public float[] Gliding() => new Renderer(gliding, laws, []).Run(null, CancellationToken.None).Left;

    [Benchmark(Description = "10 s of four oscillators, gliding, with noise")]
    public float[] GlidingNoisy() => new Renderer(gliding, noisy, []).Run(null, CancellationToken.None).Left;
}
