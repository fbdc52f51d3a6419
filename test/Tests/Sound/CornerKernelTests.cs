using Consort.Engine.Sound.Corners;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class CornerKernelTests
{
    [Theory]
    [InlineData(0.25, -0.5625)]
    [InlineData(-0.25, 0.5625)]
    [InlineData(0.999999, 0)]
    public void The_two_point_step_is_the_published_polynomial(double t, double residual) =>
        // Välimäki and Huovilainen, IEEE Signal Processing Magazine 24(2) (2007): 2t − t² − 1 and t² + 2t + 1 for a step from −1 to 1.
        Expect.Within(residual, 2 * CornerKernel.TwoPointJump(t), 2e-6);

    [Fact]
    public void The_two_point_bend_is_the_integral_of_its_step()
    {
        double sum = 0;
        const int Count = 20_000;
        for (int i = 0; i < Count; i++)
        {
            double t = -1 + (i + 0.5) * 2 / Count;
            sum += CornerKernel.TwoPointJump(t) * 2 / Count;
            if (i % 1000 == 999)
                Expect.Within(CornerKernel.TwoPointBend(t + 1.0 / Count), sum, 1e-7);
        }
    }

    [Theory]
    [InlineData(0.5, 0.936327149730)]
    [InlineData(1, 1.08948987224)]
    [InlineData(1.5, 1.01196094825)]
    [InlineData(2.5, 0.995236384460)]
    public void A_long_kernels_step_nears_the_ideal_one(double t, double ideal)
    {
        // 1/2 + Si(πt)/π (E. Brandt, ICMC 2001) is the step through all up to half the rate. A low-pass that ends a little below it
        // makes the same step, slower by the ratio; what is left is its window's, 60 dB.
        CornerKernel kernel = CornerKernel.Windowed(512, 60);
        double later = t / (0.5 * (1 + kernel.Passband)); // the middle between pass band and stop band
        float[] samples = new float[kernel.Taps];
        kernel.Add(samples, Math.Ceiling(later) - later, 1, 0);
        Expect.Within(ideal, 1 + samples[kernel.Taps / 2 - 1 + (int)Math.Ceiling(later)], 1e-5);
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.71)]
    public void Residuals_of_jump_and_bend_end_where_the_kernel_ends(double place)
    {
        CornerKernel kernel = CornerKernel.Standard;
        foreach ((double jump, double bend) in new[] { (1.0, 0.0), (0.0, 1.0) })
        {
            float[] samples = new float[kernel.Taps];
            kernel.Add(samples, place, jump, bend);
            Assert.True(Math.Abs(samples[0]) < 5e-4 && Math.Abs(samples[^1]) < 5e-4);
            Assert.True(samples.Max(Math.Abs) > 0.02);
        }
    }
}
