using System.Collections.Immutable;

namespace Consort.Engine.Sound.Noise;

/// <summary>All noise that is heard of one oscillator.</summary>
/// <param name="Periods">What noise does to its pitch, at rising control voltages.</param>
/// <param name="Outputs">Beside the wave of each output.</param>
/// <param name="Mix">How much of each of the voice's independent noises is in its own: noise of parts that several oscillators
/// hang on is the same for all of them. The squares' sum is 1.</param>
public sealed record NoiseLaw(ImmutableArray<PeriodNoise> Periods, ImmutableArray<OutputNoise> Outputs, ImmutableArray<double> Mix)
{
    /// <summary>Root of the two-sided density of the frequency's white noise at a voltage, shares per √Hz: logarithms joined by
    /// straight lines.</summary>
    public double Root(double volts) => Between(volts, noise => Math.Sqrt(noise.Density / 2));

    /// <summary>Root of the density of its 1/f noise at 1 Hz, shares per √Hz.</summary>
    public double FlickerRoot(double volts) => Between(volts, noise => Math.Sqrt(noise.Flicker));

    /// <summary>What is read nearest to a voltage.</summary>
    public PeriodNoise At(double volts) => Periods.MinBy(noise => Math.Abs(noise.Volts - volts))!;

    private double Between(double volts, Func<PeriodNoise, double> root)
    {
        double within = Math.Clamp(volts, Periods[0].Volts, Periods[^1].Volts);
        int i = 0;
        while (i + 2 < Periods.Length && Periods[i + 1].Volts < within)
            i++;
        (double a, double b) = (root(Periods[i]), root(Periods[Math.Min(i + 1, Periods.Length - 1)]));
        if (!(a > 0 && b > 0) || Periods.Length == 1)
            return a;
        double share = (within - Periods[i].Volts) / (Periods[i + 1].Volts - Periods[i].Volts);
        return a * Math.Pow(b / a, share);
    }

    /// <summary>Gives every oscillator's law its share in noise that it has in common with others: the lower triangle of their
    /// correlations' root (Cholesky), of what is heard slowly, at the middle of what was read.</summary>
    internal static ImmutableArray<NoiseLaw> Mixed(IReadOnlyList<NoiseLaw> laws)
    {
        double[][] rows = [.. laws.Select(_ => new double[laws.Count])];
        for (int i = 0; i < laws.Count; i++)
        {
            double left = 1;
            for (int j = 0; j < i; j++)
            {
                double sum = Correlation(laws[i], laws[j]);
                for (int k = 0; k < j; k++)
                    sum -= rows[i][k] * rows[j][k];
                rows[i][j] = rows[j][j] > 1e-6 ? sum / rows[j][j] : 0;
                left -= rows[i][j] * rows[i][j];
            }
            rows[i][i] = Math.Sqrt(Math.Max(0, left));
        }
        return [.. laws.Select((law, i) => law with { Mix = [.. rows[i]] })];
    }

    /// <summary>How much two oscillators' slow noise is one: −1 to 1.</summary>
    public static double Correlation(NoiseLaw one, NoiseLaw other)
    {
        PeriodNoise a = one.Periods[one.Periods.Length / 2], b = other.Periods[other.Periods.Length / 2];
        ILookup<string, NoiseCause> known = b.Causes.ToLookup(cause => cause.Source);
        double sum = 0;
        foreach (NoiseCause cause in a.Causes)
            if (known[cause.Source].FirstOrDefault() is { Source: not null } same)
                sum += Math.Sign(cause.Slow * same.Slow) * Math.Sqrt(a.ShareOf(cause) * b.ShareOf(same));
        return Math.Clamp(sum, -1, 1);
    }
}
