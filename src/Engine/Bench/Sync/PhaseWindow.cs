namespace Consort.Engine.Bench.Sync;

/// <summary>A piece of a sound under a Hann window, seen against a phase that is known.</summary>
/// <param name="Harmonics">Size and phase of that phase's multiples, from the first: the cosine's and minus the sine's part.</param>
/// <param name="Power">Mean square of the piece, less the mean's.</param>
internal readonly record struct PhaseWindow((double Cos, double Sin)[] Harmonics, double Power)
{
    /// <summary>What the harmonics hold of the power, 0 to 1.</summary>
    public double Share => Power > 0 ? Harmonics.Sum(one => 0.5 * (one.Cos * one.Cos + one.Sin * one.Sin)) / Power : 0;

    /// <summary>What one harmonic holds of the power.</summary>
    public double ShareOf(int multiple) => Power > 0 ? 0.5 * (Math.Pow(Harmonics[multiple - 1].Cos, 2) + Math.Pow(Harmonics[multiple - 1].Sin, 2)) / Power : 0;

    /// <summary>Where a harmonic stands, turns, −½ to ½.</summary>
    public double TurnOf(int multiple) => Math.Atan2(Harmonics[multiple - 1].Sin, Harmonics[multiple - 1].Cos) / (2 * Math.PI);

    /// <summary>Looks.</summary>
    /// <param name="samples">The sound.</param>
    /// <param name="middle">Of the window, a sample; what lies outside the sound is left out.</param>
    /// <param name="length">Of the window, samples.</param>
    /// <param name="multiples">How many harmonics.</param>
    /// <param name="turns">The phase at a sample, turns.</param>
    public static PhaseWindow At(double[] samples, int middle, int length, int multiples, Func<int, double> turns)
    {
        int from = Math.Max(0, middle - length / 2), to = Math.Min(samples.Length, middle + length / 2);
        double Weight(int i) => 0.5 + 0.5 * Math.Cos(2 * Math.PI * (i - middle) / length);
        double weights = 0, sum = 0;
        for (int i = from; i < to; i++)
            (weights, sum) = (weights + Weight(i), sum + Weight(i) * samples[i]);
        double mean = sum / weights, squares = 0;
        (double Cos, double Sin)[] harmonics = new (double, double)[multiples];
        for (int i = from; i < to; i++)
        {
            double off = samples[i] - mean, value = 2 * Weight(i) * off / weights;
            squares += 0.5 * value * off;
            (double sin, double cos) = Math.SinCos(2 * Math.PI * turns(i));
            (double s, double c) = (sin, cos);
            for (int k = 0; k < multiples; k++)
            {
                harmonics[k] = (harmonics[k].Cos + value * c, harmonics[k].Sin - value * s);
                (s, c) = (s * cos + c * sin, c * cos - s * sin);
            }
        }
        return new(harmonics, squares);
    }
}
