using Consort.Engine.Response;
using Xunit;

namespace Consort.Tests.Response;

public sealed class FrequencyReaderTests
{
    // The toy charges its capacitor with a current that its input moves by a tenth for each volt; its input of 1 MΩ takes a
    // thousandth from the source's 1 kΩ. It needs about 0.3 µs of 2.5 ms to empty it, a share of 1.2e-4.
    private const double ByVolt = 0.1 / 1.001;

    private static readonly Lazy<FrequencySheet> Toy = new(() => Assert.Single(Study.Of("frequency", swing: 12).Frequencies, sheet => sheet.Drive.Name == "o1/lin fm"));

    [Fact]
    public void A_current_that_a_volt_moves_by_a_tenth_moves_the_frequency_by_a_tenth()
    {
        Assert.True(Toy.Value.IsLinear);
        // What the empty time takes from it: 1.2e-4 of a tenth.
        Assert.Equal(ByVolt, Toy.Value.Slope / Toy.Value.Carrier, 2e-5);
        Assert.True(Toy.Value.Bend < 5e-4, $"{Toy.Value.Bend}");
    }

    [Fact]
    public void It_stops_where_the_current_does()
    {
        Assert.Equal(LowEnd.Stops, Toy.Value.End);
        // Slower than a fiftieth is read as stopped: 0.2 V before, and what four ideal periods take to be counted.
        Assert.Equal(-9.8, Toy.Value.EndVolts, 0.1);
    }

    [Fact]
    public void A_straight_law_keeps_its_mean_whatever_the_depth_at_rest_and_in_motion()
    {
        foreach (DepthPoint depth in Toy.Value.Depths.Where(depth => depth.Peak < 9)) // deeper, it stops on its way
        {
            Assert.Equal(ByVolt * Toy.Value.Carrier * depth.Peak, depth.DeviationHertz, 1e-3 * Toy.Value.Carrier);
            // The empty time bends the law by its share of a period: 1e-4 of ±0.24 is 0.04 cent.
            Assert.Equal(0, depth.ShiftCents, 0.05);
        }
        // Twelve periods a cycle and more: what the fit's six harmonics leave is in its standard error.
        DepthPoint moving = Assert.Single(Toy.Value.Depths, depth => depth.Peak < 5 && double.IsFinite(depth.MotionCents));
        Assert.Equal(0, moving.MotionCents, 0.05 + 4 * moving.MotionError);
    }

    [Fact]
    public void Index_is_deviation_by_the_modulators_frequency()
    {
        DepthPoint depth = Toy.Value.Depths[1];
        Assert.Equal(depth.DeviationHertz / 80, depth.Index, 1e-9); // a fifth of 400 Hz
    }

    [Fact]
    public void An_exponential_law_rises_by_the_bessel_function_of_its_depth()
    {
        // Mean of 2^(A sin θ) is I0(A ln 2) (Abramowitz and Stegun 9.6.16, from memory): A = 1: 1.1237503 by its series.
        double x = Math.Log(2), mean = 0, term = 1;
        for (int k = 0; k < 12; k++)
        {
            mean += term;
            term *= x * x / 4 / ((k + 1) * (k + 1));
        }
        FrequencyLaw law = new([.. Enumerable.Range(-12, 25).Select(i => new FrequencyPoint(5 * i / 12.0, 440 * Math.Pow(2, 5 * i / 12.0)))]);
        // Akima's spline over points five twelfths of an octave apart: a cent is 6e-4.
        Assert.Equal(440 * mean, law.Under(1).Mean, 440 * 6e-4);
        Assert.False(law.IsLinear(0.4));
    }

    [Fact]
    public void The_mean_of_moments_that_a_sine_moves_is_found_although_no_whole_cycle_is_counted()
    {
        // Phase = 500 t + 2/(2π) sin(2π 90 t): moments by Newton's method, the mean frequency is 500 Hz exactly.
        double[] times = new double[72];
        for (int i = 0; i < times.Length; i++)
        {
            double t = i / 500.0;
            for (int pass = 0; pass < 50; pass++)
                t -= (500 * t + Math.Sin(2 * Math.PI * 90 * t) / Math.PI - i) / (500 + 2 * 90 * Math.Cos(2 * Math.PI * 90 * t));
            times[i] = t;
        }
        (double hertz, double error) = MeanFrequency.Fit(times, 90);
        Assert.Equal(500, hertz, 1e-6);
        Assert.True(error < 1e-6, $"{error}");
    }
}
