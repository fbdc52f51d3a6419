using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

public sealed class YieldIntervalTests
{
    [Fact]
    public void The_interval_is_that_of_Clopper_and_Pearson()
    {
        // Clopper & Pearson, Biometrika 26 (1934) 404; numbers recomputed in multi-precision.
        YieldInterval yield = new(95, 100);
        Expect.Within(0.8871650889, yield.Low, 1e-9);
        Expect.Within(0.9835681208, yield.High, 1e-9);
        Expect.Within(0.9099724623, new YieldInterval(190, 200).Low, 1e-9);
        Expect.Within(0.9757658345, new YieldInterval(190, 200).High, 1e-9);
        Expect.Within(0.9288782635, new YieldInterval(50, 50).Low, 1e-9);
        Expect.Within(0.9418449208, new YieldInterval(50, 50).LowerEnd(0.05), 1e-9);
        Assert.Equal((0, 1), (new YieldInterval(0, 10).Low, new YieldInterval(10, 10).High));
    }

    [Fact]
    public void It_holds_a_known_yield_in_95_of_100_studies_or_more()
    {
        // R and C of 1 % each, |r + c| ≤ 1 %: three quarters of all builds (the triangle of two uniforms).
        int held = 0;
        for (ulong seed = 0; seed < 400; seed++)
        {
            double[] cube = new double[2 * 300];
            new RandomPoints(seed).Fill(0, 0, cube.AsSpan(0, 300));
            new RandomPoints(seed).Fill(1, 0, cube.AsSpan(300, 300));
            int passed = Enumerable.Range(0, 300).Count(i => Math.Abs(2 * (cube[i] + cube[300 + i]) - 2) <= 1);
            YieldInterval yield = new(passed, 300);
            held += yield.Low <= 0.75 && 0.75 <= yield.High ? 1 : 0;
        }
        Assert.InRange(held, 380 - 14, 400); // 95 % of 400, less three standard deviations; the interval is a cautious one
    }
}
