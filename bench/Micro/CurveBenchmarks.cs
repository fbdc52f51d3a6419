using BenchmarkDotNet.Attributes;
using Consort.Engine.Pitch;

namespace Consort.Bench.Micro;

/// <summary>Tracking curves of the quartet: ten notes, an octave apart.</summary>
public class CurveBenchmarks
{
    private static readonly double[] Notes = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
    private SoloOscillator[] solos = [];

    [GlobalSetup]
    public void Setup()
    {
        PlayedVoice played = Examples.Play("quartet");
        solos = [.. played.Oscillators.Select(oscillator => Examples.Solo(played.Twin(), oscillator))];
    }

    [Benchmark(Description = "ten-point curve of one oscillator")]
    public double OneOscillator() => Curve(solos[0]);

    [Benchmark(Description = "ten-point curves of four oscillators, one thread")]
    public double FourOscillators() => solos.Sum(Curve);

    [Benchmark(Description = "ten-point curves of four oscillators, two threads")]
    public double FourOscillatorsOnTwoThreads()
    {
        double[] sums = new double[solos.Length];
        Parallel.For(0, solos.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i => sums[i] = Curve(solos[i]));
        return sums.Sum();
    }

    private static double Curve(SoloOscillator solo) => Notes.Sum(volts => solo.Read(volts).Hertz);
}
