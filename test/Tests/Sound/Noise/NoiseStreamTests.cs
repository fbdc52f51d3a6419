using System.Numerics;
using Consort.Engine.Sound.Noise;
using Consort.Tests.Circuit;
using MathNet.Numerics.IntegralTransforms;
using Xunit;

namespace Consort.Tests.Sound.Noise;

/// <summary>The noise that is drawn.</summary>
public sealed class NoiseStreamTests
{
    [Fact]
    public void Its_numbers_have_the_moments_of_the_normal_law()
    {
        NoiseStream stream = new(7, 3);
        double[] values = [.. Enumerable.Range(0, 100_000).Select(i => stream.At(i))];
        // Of N numbers the mean errs by 1/√N, the variance by √(2/N), the fourth moment by √(96/N): four times those.
        Expect.Within(0, values.Average(), 4 / Math.Sqrt(1e5));
        Expect.Within(1, values.Average(v => v * v), 4 * Math.Sqrt(2 / 1e5));
        Expect.Within(3, values.Average(v => Math.Pow(v, 4)), 4 * Math.Sqrt(96 / 1e5));
    }

    [Fact]
    public void A_number_is_a_function_of_its_place_alone()
    {
        NoiseStream forwards = new(7, 3), backwards = new(7, 3);
        double[] there = [.. Enumerable.Range(0, 50).Select(i => forwards.At(i))];
        double[] back = [.. Enumerable.Range(0, 50).Reverse().Select(i => backwards.At(i)).Reverse()];
        Assert.Equal(there, back);
        Assert.NotEqual(there[0], new NoiseStream(7, 4).At(0));
        Assert.NotEqual(there[0], new NoiseStream(8, 3).At(0));
    }

    [Fact]
    public void Flicker_falls_as_one_over_f_and_is_1_at_one_hertz()
    {
        const double Rate = 750;
        const int Length = 1 << 18;
        Flicker flicker = new(new(1, 2), Rate);
        Complex[] bins = [.. Enumerable.Range(0, Length).Select(_ => new Complex(flicker.Next(), 0))];
        Fourier.Forward(bins, FourierOptions.NoScaling);
        foreach (double hertz in (double[])[0.3, 1, 3, 10, 30, 100])
        {
            // Mean over a third of an octave of the one-sided density times f; n bins know it to 1/√n.
            int from = (int)(hertz / 1.12 * Length / Rate), to = (int)(hertz * 1.12 * Length / Rate);
            double mean = Enumerable.Range(from, to - from).Average(i => 2 * Math.Pow(bins[i].Magnitude, 2) / (Rate * Length) * (i * Rate / Length));
            Expect.Within(1, mean, 0.03 + 4 / Math.Sqrt(to - from) + (hertz > 50 ? 0.1 : 0)); // the last corner stands at 164 Hz
        }
    }
}
