using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Motion;

/// <summary>RODAS on y' = λy, z = hλ: Hairer &amp; Wanner, Solving ODEs II, IV.3 (stability) and IV.7 (the method); its order
/// on equations that are not linear is measured in <see cref="Properties.OrderTests"/>.</summary>
public sealed class RosenbrockTests
{
    [Fact]
    public void Stiff_parts_die_out_in_one_step()
    {
        Assert.True(Math.Abs(Growth(Rosenbrock.Rodas, -1e9, Rosenbrock.Rodas.Stages)) < 1e-6);
        for (double z = -1e-2; z > -1e6; z *= 1.5)
            Assert.True(Math.Abs(Growth(Rosenbrock.Rodas, z, Rosenbrock.Rodas.Stages)) <= 1);
    }

    [Theory]
    [InlineData(6, 5)] // the method: what is lacking begins with the power after its order
    [InlineData(5, 4)] // the embedded one, where the last stage starts
    public void A_short_step_grows_as_the_exponential_to_the_methods_order(int stages, int power)
    {
        double coarse = Growth(Rosenbrock.Rodas, 0.2, stages) - Math.Exp(0.2);
        double fine = Growth(Rosenbrock.Rodas, 0.1, stages) - Math.Exp(0.1);
        Assert.Equal(power, Math.Log2(coarse / fine), 0.3);
    }

    [Fact]
    public void The_last_stages_end_where_the_step_ends() =>
        Assert.Equal([1, 1], Rosenbrock.Rodas.C[^2..]);

    // With so many of the stages' increments.
    private static double Growth(Rosenbrock method, double z, int stages)
    {
        double[] increments = new double[method.Stages];
        double end = 0;
        for (int i = 0; i < stages; i++)
        {
            double at = 1;
            double coupled = 0;
            for (int j = 0; j < i; j++)
            {
                at += method.A[i][j] * increments[j];
                coupled += method.Coupling[i][j] * increments[j];
            }
            increments[i] = (z * at + coupled) / (1 / method.Gamma - z);
            end = at + increments[i];
        }
        return end;
    }
}
