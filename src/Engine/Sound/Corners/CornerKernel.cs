using System.Collections.Immutable;

namespace Consort.Engine.Sound.Corners;

/// <summary>How a corner of a wave is kept out of what cannot be sampled.</summary>
public enum CornerMethod
{
    /// <summary>Not at all: the wave is sampled as it stands.</summary>
    Naive,
    /// <summary>The two-point polynomial step (Välimäki and Huovilainen, IEEE Signal Processing Magazine 24(2) (2007) 116), and its
    /// integral for bends.</summary>
    TwoPoint,
    /// <summary>A step and a ramp through a long low-pass (band-limited steps after Brandt, ICMC 2001, of linear phase).</summary>
    Windowed,
}

/// <summary>
/// What a band-limited corner differs by from a sharp one, sample by sample around it: one row for a jump of 1, one for a
/// bend of 1 a sample. Between two of the tabled places of the corner within its sample, rows are joined by straight lines.
/// </summary>
public sealed class CornerKernel
{
    /// <summary>The one that is used unless another is asked for: see bench/README.md for what others would cost and leave.</summary>
    public static CornerKernel Standard { get; } = Windowed(80, 90);

    // Places of the corner within a sample. Straight lines between them err by 1/(8·512²) of a curvature below 3: −110 dB.
    private const int Places = 512;

    private readonly float[] jumps;
    private readonly float[] bends;

    private CornerKernel(CornerMethod method, int taps, Func<double, double> jump, Func<double, double> bend)
    {
        (Method, Taps) = (method, taps);
        jumps = Tabulate(jump);
        bends = Tabulate(bend);
    }

    /// <summary>Which method.</summary>
    public CornerMethod Method { get; }

    /// <summary>Samples that a corner reaches, half of them on either side; even.</summary>
    public int Taps { get; }

    /// <summary>The share of half the rate that passes unharmed; 1 where that says nothing.</summary>
    public double Passband { get; private init; } = 1;

    /// <summary>No correction.</summary>
    public static CornerKernel Naive { get; } = new(CornerMethod.Naive, 0, _ => 0, _ => 0);

    /// <summary>Two points.</summary>
    public static CornerKernel TwoPoint { get; } = new(CornerMethod.TwoPoint, 2, TwoPointJump, TwoPointBend);

    /// <summary>A low-pass of so many taps: a sinc under a Kaiser window (Kaiser 1974; as in Oppenheim and Schafer, Discrete-Time Signal
    /// Processing) whose stop band begins at half the rate.</summary>
    /// <param name="taps">Even.</param>
    /// <param name="attenuation">Of the stop band, dB, 50 or more.</param>
    public static CornerKernel Windowed(int taps, double attenuation)
    {
        double beta = 0.1102 * (attenuation - 8.7);
        double transition = (attenuation - 7.95) / (14.36 * taps); // cycles a sample, from pass band to stop band
        StepTable table = new(taps, beta, 0.5 - 0.5 * transition);
        return new(CornerMethod.Windowed, taps, t => table.Step(t), t => table.Ramp(t)) { Passband = (0.5 - transition) / 0.5 };
    }

    /// <summary>Residual of a jump at a distance from it in samples, two-point method; −1 to 1.</summary>
    public static double TwoPointJump(double t) =>
        t is <= -1 or >= 1 ? 0 : 0.5 * (t < 0 ? t * t + 2 * t + 1 : 2 * t - t * t - 1);

    /// <summary>Its integral.</summary>
    public static double TwoPointBend(double t) =>
        t is <= -1 or >= 1 ? 0 : t < 0 ? (t + 1) * (t + 1) * (t + 1) / 6 : (1 - t) * (1 - t) * (1 - t) / 6;

    /// <summary>Adds a corner's residual to samples.</summary>
    /// <param name="samples">The first one is the first that the corner reaches, <see cref="Taps"/>/2 − 1 before the sample
    /// that it follows.</param>
    /// <param name="place">Of the corner behind that sample, 0 to 1.</param>
    public void Add(Span<float> samples, double place, double jump, double bend)
    {
        double at = place * Places;
        int row = Math.Min(Places - 1, (int)at);
        float between = (float)(at - row);
        if (jump != 0)
            Add(samples, jumps.AsSpan(row * Taps, 2 * Taps), between, (float)jump);
        if (bend != 0)
            Add(samples, bends.AsSpan(row * Taps, 2 * Taps), between, (float)bend);
    }

    private void Add(Span<float> samples, ReadOnlySpan<float> rows, float between, float size)
    {
        float low = size * (1 - between);
        float high = size * between;
        int wide = System.Numerics.Vector<float>.Count;
        int k = 0;
        for (; k + wide <= Taps; k += wide)
        {
            System.Numerics.Vector<float> sum = new(samples[k..]);
            sum += low * new System.Numerics.Vector<float>(rows[k..]) + high * new System.Numerics.Vector<float>(rows[(Taps + k)..]);
            sum.CopyTo(samples[k..]);
        }
        for (; k < Taps; k++)
            samples[k] += low * rows[k] + high * rows[Taps + k];
    }

    // Column k of a place p: the sample k + 1 − Taps/2 − p after the corner. Samples up to the one that the corner follows see
    // it before them, whatever the place: each column is smooth in p.
    private float[] Tabulate(Func<double, double> residual)
    {
        float[] table = new float[(Places + 1) * Taps];
        for (int place = 0; place <= Places; place++)
            for (int k = 0; k < Taps; k++)
            {
                int sample = k + 1 - Taps / 2;
                double t = sample - (double)place / Places;
                bool isBefore = sample <= 0;
                // The sharp corner's side is the column's, not the rounded distance's.
                table[place * Taps + k] = (float)residual(isBefore ? Math.Min(t, -double.Epsilon) : Math.Max(t, 0));
            }
        return table;
    }

    /// <summary>Step and ramp through the low-pass, less the sharp ones, by integration over a fine grid.</summary>
    private sealed class StepTable
    {
        private readonly int half;
        private readonly double[] steps;
        private readonly double[] ramps;

        public StepTable(int taps, double beta, double cutoff)
        {
            half = taps / 2;
            int count = taps * Places;
            steps = new double[count + 1];
            ramps = new double[count + 1];
            double width = (double)taps / count;
            double Impulse(double t) => Lowpass(t, cutoff) * Kaiser(t / half, beta);
            for (int i = 0; i < count; i++)
            {
                double t = -half + i * width;
                steps[i + 1] = steps[i] + width / 6 * (Impulse(t) + 4 * Impulse(t + width / 2) + Impulse(t + width));
            }
            double whole = steps[^1];
            for (int i = 0; i <= count; i++)
                steps[i] /= whole;
            // The step's own integral: trapezium with the impulse's slope at both ends (Euler-Maclaurin), error of fourth order.
            for (int i = 0; i < count; i++)
            {
                double t = -half + i * width;
                ramps[i + 1] = ramps[i] + width / 2 * (steps[i] + steps[i + 1]) + width * width / 12 * (Impulse(t) - Impulse(t + width)) / whole;
            }
        }

        public double Step(double t) => At(steps, t) - (t >= 0 ? 1 : 0);

        public double Ramp(double t) => At(ramps, t) - Math.Max(0, t);

        private double At(double[] table, double t)
        {
            double at = (t + half) / (2.0 * half) * (table.Length - 1);
            int i = Math.Clamp((int)at, 0, table.Length - 2);
            return table[i] + (table[i + 1] - table[i]) * (at - i);
        }

        private static double Lowpass(double t, double cutoff) =>
            Math.Abs(t) < 1e-12 ? 2 * cutoff : Math.Sin(2 * Math.PI * cutoff * t) / (Math.PI * t);

        private static double Kaiser(double x, double beta) =>
            Math.Abs(x) >= 1 ? (Math.Abs(x) > 1 ? 0 : 1 / Bessel(beta)) : Bessel(beta * Math.Sqrt(1 - x * x)) / Bessel(beta);

        private static double Bessel(double x) => MathNet.Numerics.SpecialFunctions.BesselI0(x);
    }
}
