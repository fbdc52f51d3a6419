namespace Consort.Tests.Measuring.Tones;

/// <summary>Recordings made for tests, harmonic by harmonic, by nothing of the engine's own.</summary>
internal sealed class MadeTone(int seed, int count, double rate = 48000)
{
    private const double Highest = 0.97 * 0.5; // of the sampling frequency, as far as the engine looks

    private readonly Random random = new(seed);

    /// <summary>The samples.</summary>
    public double[] Samples { get; } = new double[count];

    /// <summary>A number from 0 to 1.</summary>
    public double Share() => random.NextDouble();

    /// <summary>Size of a shape's k-th harmonic (Bracewell; saw and pulse of ±1).</summary>
    public static double Size(string shape, int k) =>
        shape switch
        {
            "sine" => k == 1 ? 1 : 0,
            "saw" => 2 / (Math.PI * k),
            "triangle" => k % 2 == 1 ? 8 / (Math.PI * Math.PI * k * k) : 0,
            "pulse" => 4 * Math.Sin(Math.PI * k * 0.27) / (Math.PI * k),
            _ => throw new ArgumentOutOfRangeException(nameof(shape), shape, null),
        };

    /// <summary>How many harmonics of a shape can be recorded.</summary>
    public int Harmonics(string shape, double hertz) => shape == "sine" ? 1 : Math.Max(1, (int)(Highest * rate / hertz));

    /// <summary>Adds a note at a random phase.</summary>
    /// <param name="slide">Hz per second, about the middle.</param>
    public MadeTone Add(string shape, double hertz, double level = 1, double slide = 0)
    {
        double phase = 2 * Math.PI * Share();
        for (int k = 1; k <= Harmonics(shape, hertz); k++)
            AddOne(k, hertz, level * Size(shape, k), phase, slide);
        return this;
    }

    /// <summary>Adds one partial.</summary>
    public MadeTone AddOne(int k, double hertz, double size, double phase, double slide = 0)
    {
        if (size == 0)
            return this;
        double middle = 0.5 * (Samples.Length - 1), turn = 2 * Math.PI * k * hertz / rate;
        (double turnSin, double turnCos) = Math.SinCos(turn);
        (double sin, double cos) = (0, 1);
        for (int i = 0; i < Samples.Length; i++)
        {
            double t = (i - middle) / rate;
            if (slide != 0 || i % 64 == 0) // turned on from sample to sample, and set afresh before rounding tells
                (sin, cos) = Math.SinCos(k * (2 * Math.PI * (hertz * t + 0.5 * slide * t * t) + phase));
            else
                (sin, cos) = (sin * turnCos + cos * turnSin, cos * turnCos - sin * turnSin);
            Samples[i] += size * sin;
        }
        return this;
    }

    /// <summary>Mean square of what is there.</summary>
    public double Power => Samples.Sum(sample => sample * sample) / Samples.Length;

    /// <summary>Adds hum: first, second and third multiple, 20 dB to 26 dB below what is there.</summary>
    public MadeTone Hum(double hertz)
    {
        double level = Math.Sqrt(2 * Power);
        foreach ((int k, double size) in new[] { (1, 0.1), (2, 0.05), (3, 0.07) })
            AddOne(k, hertz, size * level, Share());
        return this;
    }

    /// <summary>Adds white Gaussian noise of that deviation (Box and Muller).</summary>
    public MadeTone Noise(double deviation)
    {
        for (int i = 0; i < Samples.Length; i++)
            Samples[i] += deviation * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        return this;
    }
}
