using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Consort.Engine.Bench.Tones;

/// <summary>What a signal has in common with cosine and sine of one frequency, time counted from its middle.</summary>
/// <param name="Cos">Σ y·cos νm.</param>
/// <param name="Sin">Σ y·sin νm.</param>
/// <param name="TimesCos">Σ m·y·cos νm.</param>
/// <param name="TimesSin">Σ m·y·sin νm.</param>
internal readonly record struct TrigSum(double Cos, double Sin, double TimesCos, double TimesSin);

/// <summary>Sums of a signal with cosines and sines, and signals made of them, four samples at a time.</summary>
internal static class TrigSums
{
    private const int Restart = 256; // vectors between fresh sines: keeps the rotation's rounding near 1e-14

    /// <summary>The sums at each frequency, rad per sample.</summary>
    public static TrigSum[] Of(FoldedSignal signal, ReadOnlySpan<double> frequencies)
    {
        TrigSum[] sums = new TrigSum[frequencies.Length];
        for (int j = 0; j < sums.Length; j++)
            sums[j] = One(signal, frequencies[j]);
        return sums;
    }

    /// <summary>Adds Σ cos[j]·cos(ν[j]·m) + sin[j]·sin(ν[j]·m) to a signal of so many samples.</summary>
    public static void Add(Span<double> into, ReadOnlySpan<double> frequencies, ReadOnlySpan<double> cos, ReadOnlySpan<double> sin)
    {
        int half = into.Length / 2, right = into.Length - half;
        bool isOdd = (into.Length & 1) == 1;
        double[] even = new double[half], odd = new double[half];
        for (int j = 0; j < frequencies.Length; j++)
        {
            AddOne(even, odd, isOdd ? 1 : 0.5, frequencies[j], cos[j], sin[j]);
            if (isOdd)
                into[half] += cos[j];
        }
        for (int h = 0; h < half; h++)
        {
            into[right + h] += even[h] + odd[h];
            into[half - 1 - h] += even[h] - odd[h];
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static TrigSum One(FoldedSignal signal, double frequency)
    {
        int count = signal.Half, vectors = count / 4;
        ref double even = ref MemoryMarshal.GetArrayDataReference(signal.Even);
        ref double odd = ref MemoryMarshal.GetArrayDataReference(signal.Odd);
        ref double evenTimes = ref MemoryMarshal.GetArrayDataReference(signal.EvenTimes);
        ref double oddTimes = ref MemoryMarshal.GetArrayDataReference(signal.OddTimes);
        Vector256<double> sumCos = default, sumSin = default, sumTimesCos = default, sumTimesSin = default;
        (double turnSin, double turnCos) = Math.SinCos(4 * frequency);
        Vector256<double> turnC = Vector256.Create(turnCos), turnS = Vector256.Create(turnSin);
        for (int start = 0; start < vectors; start += Restart)
        {
            (Vector256<double> c, Vector256<double> s) = Fresh(frequency, signal.First + 4 * start);
            int end = Math.Min(vectors, start + Restart);
            for (int v = start; v < end; v++)
            {
                nuint at = (nuint)(4 * v);
                sumCos += c * Vector256.LoadUnsafe(ref even, at);
                sumSin += s * Vector256.LoadUnsafe(ref odd, at);
                sumTimesCos += c * Vector256.LoadUnsafe(ref oddTimes, at);
                sumTimesSin += s * Vector256.LoadUnsafe(ref evenTimes, at);
                Vector256<double> next = c * turnC - s * turnS;
                s = s * turnC + c * turnS;
                c = next;
            }
        }
        double cos = signal.Middle + Vector256.Sum(sumCos), sin = Vector256.Sum(sumSin);
        double timesCos = Vector256.Sum(sumTimesCos), timesSin = Vector256.Sum(sumTimesSin);
        for (int h = 4 * vectors; h < count; h++)
        {
            (double s, double c) = Math.SinCos(frequency * (signal.First + h));
            cos += c * signal.Even[h];
            sin += s * signal.Odd[h];
            timesCos += c * signal.OddTimes[h];
            timesSin += s * signal.EvenTimes[h];
        }
        return new(cos, sin, timesCos, timesSin);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void AddOne(double[] even, double[] odd, double first, double frequency, double a, double b)
    {
        int vectors = even.Length / 4;
        ref double evens = ref MemoryMarshal.GetArrayDataReference(even);
        ref double odds = ref MemoryMarshal.GetArrayDataReference(odd);
        (double turnSin, double turnCos) = Math.SinCos(4 * frequency);
        Vector256<double> turnC = Vector256.Create(turnCos), turnS = Vector256.Create(turnSin);
        Vector256<double> cos = Vector256.Create(a), sin = Vector256.Create(b);
        for (int start = 0; start < vectors; start += Restart)
        {
            (Vector256<double> c, Vector256<double> s) = Fresh(frequency, first + 4 * start);
            int end = Math.Min(vectors, start + Restart);
            for (int v = start; v < end; v++)
            {
                nuint at = (nuint)(4 * v);
                (Vector256.LoadUnsafe(ref evens, at) + cos * c).StoreUnsafe(ref evens, at);
                (Vector256.LoadUnsafe(ref odds, at) + sin * s).StoreUnsafe(ref odds, at);
                Vector256<double> next = c * turnC - s * turnS;
                s = s * turnC + c * turnS;
                c = next;
            }
        }
        for (int h = 4 * vectors; h < even.Length; h++)
        {
            (double s, double c) = Math.SinCos(frequency * (first + h));
            even[h] += a * c;
            odd[h] += b * s;
        }
    }

    private static (Vector256<double> Cos, Vector256<double> Sin) Fresh(double frequency, double time)
    {
        (double s0, double c0) = Math.SinCos(frequency * time);
        (double s1, double c1) = Math.SinCos(frequency * (time + 1));
        (double s2, double c2) = Math.SinCos(frequency * (time + 2));
        (double s3, double c3) = Math.SinCos(frequency * (time + 3));
        return (Vector256.Create(c0, c1, c2, c3), Vector256.Create(s0, s1, s2, s3));
    }
}
