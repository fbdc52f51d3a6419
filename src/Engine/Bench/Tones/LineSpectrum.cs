using Consort.Engine.Quantities;
using MathNet.Numerics.IntegralTransforms;

namespace Consort.Engine.Bench.Tones;

/// <summary>One line of a spectrum.</summary>
/// <param name="Bin">Where, in lines of 1/N of the sampling frequency.</param>
/// <param name="Power">Square of its height, in any unit.</param>
internal readonly record struct Line(double Bin, double Power);

/// <summary>The spectrum of a recording under Hann's window, and the lines that stand out of it.</summary>
internal sealed class LineSpectrum
{
    private const int MostLines = 60;
    private const double AboveFloor = 12; // times the median: noise alone reaches it once in some 4000 bins
    private const double BelowHighest = 1e-7; // 70 dB

    private readonly double[] power;
    private readonly double perBin; // entries of the spectrum for one bin

    /// <summary>Takes the spectrum, with zeros added so that lines stand finer than bins.</summary>
    public LineSpectrum(ReadOnlySpan<double> samples)
    {
        Count = samples.Length;
        int length = 2;
        while (length < 2 * Count)
            length *= 2;
        double[] data = new double[length + 2];
        for (int i = 0; i < Count; i++)
            data[i] = samples[i] * (1 - Math.Cos(2 * Math.PI * (i + 0.5) / Count));
        Fourier.ForwardReal(data, length, FourierOptions.NoScaling);
        power = new double[length / 2];
        for (int i = 0; i < power.Length; i++)
            power[i] = data[2 * i] * data[2 * i] + data[2 * i + 1] * data[2 * i + 1];
        perBin = (double)length / Count;
        Lines = Find();
    }

    /// <summary>Samples in it.</summary>
    public int Count { get; }

    /// <summary>The lines, strongest first.</summary>
    public Line[] Lines { get; }

    /// <summary>The highest power within half a bin of a place.</summary>
    public double Around(double bin)
    {
        int from = Math.Max(0, (int)Math.Ceiling((bin - 0.5) * perBin)), to = Math.Min(power.Length - 1, (int)Math.Floor((bin + 0.5) * perBin));
        double most = 0;
        for (int i = from; i <= to; i++)
            most = Math.Max(most, power[i]);
        return most;
    }

    private Line[] Find()
    {
        int first = (int)Math.Ceiling(perBin);
        double floor = AboveFloor * Median.Of(power.AsSpan(first)), highest = 0;
        for (int i = first; i < power.Length; i++)
            highest = Math.Max(highest, power[i]);
        List<Line> lines = [];
        for (int i = first; i < power.Length - 1; i++)
            if (power[i] > power[i - 1] && power[i] >= power[i + 1] && power[i] > floor && power[i] > BelowHighest * highest)
                lines.Add(Peak(i));
        return [.. lines.OrderByDescending(line => line.Power).Take(MostLines)];
    }

    // The top of the parabola through three logarithms.
    private Line Peak(int i)
    {
        double before = Math.Log(Math.Max(power[i - 1], double.Epsilon)), at = Math.Log(power[i]), after = Math.Log(Math.Max(power[i + 1], double.Epsilon));
        double bend = before - 2 * at + after;
        double shift = bend < 0 ? Math.Clamp(0.5 * (before - after) / bend, -0.5, 0.5) : 0;
        return new((i + shift) / perBin, power[i]);
    }
}
