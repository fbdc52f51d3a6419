using Consort.Engine.Sound.Corners;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Shapes;

namespace Consort.Tests.Sound;

/// <summary>Waves as the oscillators render them, without what a start leaves.</summary>
internal static class Rendered
{
    public const double Rate = 48_000;

    /// <summary>At a steady pitch.</summary>
    public static double[] Steady(WaveShape shape, double hertz, int count, CornerKernel? kernel = null, double rate = Rate) =>
        Pulled(shape, hertz, 0, count, kernel, rate);

    /// <summary>Pulled hard by a lead; by nothing when the lead has no pitch.</summary>
    public static double[] Pulled(WaveShape shape, double hertz, double lead, int count, CornerKernel? kernel = null, double rate = Rate, double from = 0) =>
        Pulled(shape, hertz, lead, count, SyncLaw.Reset(from), kernel, rate);

    /// <summary>Pulled by a lead as a law says.</summary>
    public static double[] Pulled(WaveShape shape, double hertz, double lead, int count, SyncLaw law, CornerKernel? kernel = null, double rate = Rate)
    {
        kernel ??= CornerKernel.Standard;
        SoundOscillator follower = new(shape, kernel);
        SoundOscillator puller = new(WaveShape.Saw, CornerKernel.Naive);
        double[] scrap = new double[SoundOscillator.Block];
        return Blocks(count, kernel, block =>
        {
            if (lead > 0)
                puller.Render([lead / rate], [], null, scrap.AsSpan(0, block.Length));
            follower.Render([hertz / rate], lead > 0 ? puller.Turns : [], law, block);
        });
    }

    /// <summary>With its frequency moved by a sine.</summary>
    public static double[] Modulated(WaveShape shape, double hertz, double swing, double modulator, int count, CornerKernel? kernel = null, double rate = Rate)
    {
        kernel ??= CornerKernel.Standard;
        SoundOscillator oscillator = new(shape, kernel);
        long at = 0;
        return Blocks(count, kernel, block =>
        {
            double[] cycles = new double[2 * block.Length + 1];
            for (int i = 0; i < cycles.Length; i++)
                cycles[i] = (hertz + swing * Math.Cos(2 * Math.PI * modulator / rate * (at + 0.5 * i))) / rate;
            at += block.Length;
            oscillator.Render(cycles, [], null, block);
        });
    }

    private delegate void Render(Span<double> block);

    private static double[] Blocks(int count, CornerKernel kernel, Render render)
    {
        int skip = 4 * kernel.Taps;
        double[] samples = new double[skip + count];
        for (int at = 0; at < samples.Length; at += SoundOscillator.Block)
            render(samples.AsSpan(at, Math.Min(SoundOscillator.Block, samples.Length - at)));
        return samples[skip..];
    }
}
