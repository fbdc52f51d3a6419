using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Shapes;
using Consort.Engine.Sound.Spectra;

namespace Consort.Bench.Sound;

/// <summary>What a corner's kernel leaves of aliases, and what it costs: from sampling as it stands to long low-passes.</summary>
internal static class AliasStudy
{
    private const double Rate = 48_000;
    private const int Count = 96_000;
    private const int Seconds = 20;
    private const int Repeats = 3;

    private static readonly double[] Pitches = [882.613, 1976.741, 3310.17, 4999.773];

    public static void Run(Page page)
    {
        page.Heading("Sound: aliases and cost");
        page.Line($"Strongest line that does not belong, dB against the fundamental, worst of fundamentals to 5 kHz at {Rate / 1000} kHz: saw, pulse of 37 %, saw pulled by a lead at 1.37, 2.72 and 1.62 times its own, saw whose frequency swings by 30 to 50 %. Cost: seconds of four saws in a second of one processor's time, fastest of {Repeats}.");
        page.Table(
            ["kernel", "pass band", "saw", "pulse", "hard sync", "FM", "times real time, 440 Hz", "at 5 kHz"],
            Kernels().Select(pair => Row(pair.Name, pair.Kernel))
        );
    }

    private static IEnumerable<(string Name, CornerKernel Kernel)> Kernels()
    {
        yield return ("as it stands", CornerKernel.Naive);
        yield return ("two points", CornerKernel.TwoPoint);
        foreach ((int taps, double attenuation) in new[] { (32, 80.0), (48, 80), (64, 90), (80, 90), (96, 100), (128, 100) })
            yield return ($"{taps} taps, {attenuation} dB", CornerKernel.Windowed(taps, attenuation));
    }

    private static string[] Row(string name, CornerKernel kernel) =>
        [
            name,
            kernel.Method == CornerMethod.Windowed ? $"{kernel.Passband * Rate / 2000:0.0} kHz" : "",
            Db(Pitches.Max(hertz => Floor(Steady(WaveShape.Saw, hertz, 0, kernel), hertz))),
            Db(Pitches.Max(hertz => Floor(Steady(WaveShape.Pulse(0.37), hertz, 0, kernel), hertz))),
            Db(new[] { (441.11, 1.37), (1976.741, 2.718), (4999.773, 1.618) }.Max(pair => Floor(Steady(WaveShape.Saw, pair.Item1 * pair.Item2, pair.Item1, kernel), pair.Item1))),
            Db(new[] { (499.773, 0.4, 3), (1999.31, 0.5, 2), (4998.57, 0.3, 4) }.Max(triple => Modulated(triple.Item1, triple.Item2, triple.Item1 / triple.Item3, kernel))),
            $"{Speed(kernel, 440):0}",
            $"{Speed(kernel, 5000):0}",
        ];

    private static string Db(double value) => $"{value:0.0}";

    private static double Floor(double[] wave, double hertz) => AliasFloor.Of(wave, Rate, hertz, Window.Deep).Db;

    private static double[] Steady(WaveShape shape, double hertz, double lead, CornerKernel kernel)
    {
        SoundOscillator own = new(shape, kernel), puller = new(WaveShape.Saw, CornerKernel.Naive);
        double[] scrap = new double[SoundOscillator.Block];
        return Blocks(kernel, (_, block) =>
        {
            if (lead > 0)
                puller.Render([lead / Rate], [], null, scrap.AsSpan(0, block.Length));
            own.Render([hertz / Rate], lead > 0 ? puller.Turns : [], SyncLaw.Reset(), block.Span);
        });
    }

    private static double Modulated(double hertz, double depth, double modulator, CornerKernel kernel)
    {
        SoundOscillator own = new(WaveShape.Saw, kernel);
        double[] wave = Blocks(kernel, (at, block) =>
        {
            double[] cycles = [.. Enumerable.Range(0, 2 * block.Length + 1).Select(i => hertz * (1 + depth * Math.Cos(2 * Math.PI * modulator / Rate * (at + 0.5 * i))) / Rate)];
            own.Render(cycles, [], SyncLaw.Reset(), block.Span);
        });
        double[] lines = [.. Enumerable.Range(0, (int)(Rate / 2 / modulator) + 1).Select(k => k * modulator)];
        return AliasFloor.Of(wave, Rate, hertz, lines, Window.Deep).Db;
    }

    private static double[] Blocks(CornerKernel kernel, Action<int, Memory<double>> render)
    {
        int skip = 4 * kernel.Taps;
        double[] samples = new double[skip + Count];
        for (int at = 0; at < samples.Length; at += SoundOscillator.Block)
            render(at, samples.AsMemory(at, Math.Min(SoundOscillator.Block, samples.Length - at)));
        return samples[skip..];
    }

    private static double Speed(CornerKernel kernel, double hertz)
    {
        double[] block = new double[SoundOscillator.Block];
        double best = double.PositiveInfinity;
        for (int turn = 0; turn < Repeats; turn++)
        {
            SoundOscillator[] four = [.. Enumerable.Range(0, 4).Select(i => new SoundOscillator(WaveShape.Saw, kernel, 0.1 * i))];
            Work work = Work.Begin();
            for (int n = 0; n < Rate * Seconds / SoundOscillator.Block; n++)
                foreach (SoundOscillator oscillator in four)
                    oscillator.Render([hertz / Rate], [], SyncLaw.Reset(), block);
            best = Math.Min(best, work.Seconds);
        }
        return Seconds / best;
    }
}
