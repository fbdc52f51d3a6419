namespace Consort.Engine.Sound.Noise;

/// <summary>
/// Noise whose density falls as 1/f, as a sum of processes with one time constant each, an octave apart (McWhorter's
/// superposition; from memory): one of corner f with variance v has the one-sided density (2/π)·v·f₀/(f² + f₀²), and their sum
/// over octaves v/(ln 2·f), to 1 % within the corners. It begins in its steady state.
/// </summary>
internal sealed class Flicker
{
    /// <summary>Lowest corner, Hz: below it the density no longer grows.</summary>
    public const double LowestHertz = 0.01;

    private readonly NoiseStream stream;
    private readonly double[] keep;
    private readonly double[] states;
    private long step;

    /// <summary>With so many values a second; corners reach a quarter of that.</summary>
    public Flicker(NoiseStream stream, double rate)
    {
        this.stream = stream;
        int count = 1 + (int)Math.Log2(rate / 4 / LowestHertz);
        keep = new double[count];
        states = new double[count];
        for (int k = 0; k < count; k++)
        {
            keep[k] = Math.Exp(-2 * Math.PI * LowestHertz * Math.Pow(2, k) / rate);
            states[k] = stream.At(k);
        }
        step = 1;
    }

    /// <summary>The next value; a density of 1/f at one hertz is 1.</summary>
    public double Next()
    {
        double sum = 0;
        for (int k = 0; k < states.Length; k++)
        {
            sum += states[k];
            states[k] = keep[k] * states[k] + Math.Sqrt(1 - keep[k] * keep[k]) * stream.At(step * states.Length + k);
        }
        step++;
        return sum * Math.Sqrt(Math.Log(2));
    }
}
