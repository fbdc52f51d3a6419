using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Bench.Waveforms;

/// <summary>
/// Reads a wave's shape off its harmonics. The sizes alone are compared with those of the usual shapes, since cables,
/// couplings and converters turn phases more than they change sizes; phases only tell a wave from its mirror image.
/// </summary>
internal static class WaveAnalysis
{
    private const int MostHarmonics = 60;
    private const double SineBelow = 0.05; // distortion; a shaped sine has 1 % or 2 %, a triangle 12 %
    private const double SawBelow = 0.05; // share of the period: a reset takes less; converters that dull the top harmonics make it seem 2 %
    private const double Strange = 0.2; // misfit above which no shape's levels mean anything
    private const int Moments = 2048;

    /// <summary>Reads; null without a first harmonic, which no usual shape lacks.</summary>
    /// <param name="volts">At digital full scale; null when it is not known.</param>
    public static WaveReading? Of(ToneReading tone, double? volts)
    {
        double[] sizes = Sizes(tone);
        if (sizes.Length == 0 || sizes[0] == 0)
            return null;
        double overtones = Math.Sqrt(sizes.Skip(1).Sum(size => size * size)), distortion = overtones / sizes[0];
        double scale = volts ?? 1;
        double rms = scale * Math.Sqrt(0.5 * sizes.Sum(size => size * size));
        Match flank = Best(sizes, Flank), pulse = Best(sizes, Pulse);
        Match best = pulse.Misfit < flank.Misfit ? pulse : flank;
        WaveShape shape =
            distortion < SineBelow ? WaveShape.Sine
            : pulse.Misfit < flank.Misfit ? WaveShape.Pulse
            : flank.Share < SawBelow ? WaveShape.Saw
            : WaveShape.Triangle;
        double misfit = shape == WaveShape.Sine ? distortion / Math.Sqrt(1 + distortion * distortion) : best.Misfit;
        bool isMirrored = Skew(tone, shape == WaveShape.Pulse ? 0 : 1) < 0;
        double share = isMirrored ? 1 - best.Share : best.Share;
        double span = shape == WaveShape.Sine ? 2 * sizes[0] : misfit < Strange ? best.Size : Span(tone);
        return new(
            shape,
            misfit,
            shape == WaveShape.Pulse ? share : null,
            shape is WaveShape.Triangle or WaveShape.Saw ? share : null,
            distortion,
            scale * span,
            rms,
            volts is not null,
            tone.Harmonics[^1].Number
        );
    }

    // From the first on; those that did not stand out of the noise are nothing.
    private static double[] Sizes(ToneReading tone)
    {
        double[] sizes = new double[tone.Harmonics.IsEmpty ? 0 : Math.Min(MostHarmonics, tone.Harmonics[^1].Number)];
        foreach (Harmonic harmonic in tone.Harmonics)
            if (harmonic.Number <= sizes.Length)
                sizes[harmonic.Number - 1] = harmonic.Amplitude;
        return sizes;
    }

    private readonly record struct Match(double Share, double Misfit, double Size);

    // Rising for a share s, falling for the rest, 1 from peak to peak: sin πks/(π²k²s(1 − s)).
    private static double Flank(int k, double s) => Math.Abs(Math.Sin(Math.PI * k * s)) / (Math.PI * Math.PI * k * k * s * (1 - s));

    // High for a share d, 1 from level to level: 2·sin πkd/πk (Bracewell).
    private static double Pulse(int k, double d) => 2 * Math.Abs(Math.Sin(Math.PI * k * d)) / (Math.PI * k);

    // The share up to a half that fits best: a grid fine enough for the highest harmonic, then thirds of what is left.
    private static Match Best(double[] sizes, Func<int, double, double> shape)
    {
        const double Least = 1e-4;
        int steps = 8 * sizes.Length + 64;
        double best = 0.5;
        for (int i = 0; i < steps; i++)
        {
            double share = Least + (0.5 - Least) * i / steps;
            if (At(sizes, shape, share).Misfit < At(sizes, shape, best).Misfit)
                best = share;
        }
        double low = Math.Max(Least, best - 0.5 / steps), high = Math.Min(0.5, best + 0.5 / steps);
        for (int pass = 0; pass < 60; pass++)
        {
            double a = low + (high - low) / 3, b = high - (high - low) / 3;
            if (At(sizes, shape, a).Misfit < At(sizes, shape, b).Misfit)
                high = b;
            else
                low = a;
        }
        return At(sizes, shape, 0.5 * (low + high));
    }

    private static Match At(double[] sizes, Func<int, double, double> shape, double share)
    {
        double common = 0, own = 0, all = 0;
        for (int i = 0; i < sizes.Length; i++)
        {
            double ideal = shape(i + 1, share);
            common += ideal * sizes[i];
            own += ideal * ideal;
            all += sizes[i] * sizes[i];
        }
        double left = Math.Max(0, all - common * common / own);
        return new(share, Math.Sqrt(left / all), common / own);
    }

    // Third moment of the wave, or of its slope: positive where what is high, or steep and rising, is short.
    private static double Skew(ToneReading tone, int power)
    {
        double sum = 0;
        for (int i = 0; i < Moments; i++)
        {
            double angle = 2 * Math.PI * i / Moments, value = 0;
            foreach (Harmonic harmonic in tone.Harmonics)
                if (harmonic.Number <= MostHarmonics)
                    value += power == 0
                        ? harmonic.Amplitude * Math.Cos(harmonic.Number * angle + harmonic.Phase)
                        : -harmonic.Number * harmonic.Amplitude * Math.Sin(harmonic.Number * angle + harmonic.Phase);
            sum += value * value * value;
        }
        return sum;
    }

    private static double Span(ToneReading tone)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        for (int i = 0; i < Moments; i++)
        {
            double value = tone.Harmonics.Sum(harmonic => harmonic.Amplitude * Math.Cos(2 * Math.PI * i * harmonic.Number / Moments + harmonic.Phase));
            (low, high) = (Math.Min(low, value), Math.Max(high, value));
        }
        return high - low;
    }
}
