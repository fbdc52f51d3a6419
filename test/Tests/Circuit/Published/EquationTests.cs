using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>
/// Initial value problems with published end values, run by the circuit solver. IVP Test Set: F. Mazzia, C. Magherini,
/// Test Set for Initial Value Problem Solvers, release 2.4, University of Bari, 2008 (confirmed). test/Reference/ivp holds
/// the values with their source.
/// </summary>
public sealed class EquationTests
{
    private static Equations VanDerPol(double mu, double amplitude) =>
        new Equations().Add("y", amplitude, "[z]").Add("z", 0, $"{mu:R} * (1 - [y]^2) * [z] - [y]");

    [Fact]
    public void Van_der_Pols_orbit_closes_after_its_published_period()
    {
        // Hairer, Nørsett, Wanner, Solving ODEs I: T = 6.66328685932313019, start at 2.00861986087484. Confirmed.
        double[] end = VanDerPol(1, 2.00861986087484).After(6.66328685932313, Accuracy.Strict(1e-12, 1e-13));
        Expect.Within(2.00861986087484, end[0], 2e-9);
        Expect.Within(0, end[1], 2e-9);
    }

    [Theory]
    [InlineData(1, 6.66328685932313)]
    [InlineData(2, 7.62987447968)]
    [InlineData(3, 8.85909549972)]
    [InlineData(5, 11.6122306677)]
    [InlineData(10, 19.0783695669)]
    public void Van_der_Pols_period_grows_as_published(double mu, double period)
    {
        // As above; the others after P. Amore, arXiv:2111.12198, worked out again.
        Bench bench = VanDerPol(mu, 2).Bench();
        double found = bench.Period(bench.Rising("y"), 2, 3, 5 * period, Accuracy.Strict(1e-11, 1e-12));
        Expect.Relative(period, found, 1e-9);
    }

    [Fact]
    public void Stiff_van_der_Pol_reaches_its_published_end()
    {
        // IVP Test Set, "vdpol", and Hairer and Wanner, Solving ODEs II, IV.10. Confirmed.
        double[] end = new Equations()
            .Add("y", 2, "[z]")
            .Add("z", 0, "((1 - [y]^2) * [z] - [y]) / 1e-6")
            .After(2, Accuracy.Strict(1e-10, 1e-11));
        Expect.Relative(1.706167732170469, end[0], 1e-8);
        Expect.Relative(-0.8928097010248, end[1], 1e-8);
    }

    private static Equations Robertson() =>
        new Equations()
            .Add("a", 1, "-0.04 * [a] + 1e4 * [b] * [c]")
            .Add("b", 0, "0.04 * [a] - 1e4 * [b] * [c] - 3e7 * [b]^2")
            .Add("c", 0, "3e7 * [b]^2");

    [Theory]
    [InlineData(0.4, 0.985172113861, 3.386395379e-5, 0.0147940221852, 1e-9)]
    [InlineData(40, 0.715827068719, 9.18553476e-6, 0.284163745746, 3e-9)]
    [InlineData(1e11, 0.2083340149701255e-7, 0.8333360770334713e-13, 0.999999979166505, 1e-7)]
    public void Robertsons_reaction_reaches_its_published_ends(double time, double a, double b, double c, double share)
    {
        // H. H. Robertson 1966; IVP Test Set, "rober" (the last row); the others as in SUNDIALS' and LSODE's examples.
        double[] end = Robertson().After(time, Accuracy.Strict(1e-9, 1e-17));
        Expect.Relative(a, end[0], share);
        Expect.Relative(b, end[1], share);
        Expect.Relative(c, end[2], share);
    }

    [Fact]
    public void Hires_reaches_its_published_end()
    {
        // High irradiance response, E. Schäfer 1975: IVP Test Set, "hires". Confirmed.
        double[] end = new Equations()
            .Add("y1", 1, "-1.71 * [y1] + 0.43 * [y2] + 8.32 * [y3] + 0.0007")
            .Add("y2", 0, "1.71 * [y1] - 8.75 * [y2]")
            .Add("y3", 0, "-10.03 * [y3] + 0.43 * [y4] + 0.035 * [y5]")
            .Add("y4", 0, "8.32 * [y2] + 1.71 * [y3] - 1.12 * [y4]")
            .Add("y5", 0, "-1.745 * [y5] + 0.43 * [y6] + 0.43 * [y7]")
            .Add("y6", 0, "-280 * [y6] * [y8] + 0.69 * [y4] + 1.71 * [y5] - 0.43 * [y6] + 0.69 * [y7]")
            .Add("y7", 0, "280 * [y6] * [y8] - 1.81 * [y7]")
            .Add("y8", 0.0057, "-280 * [y6] * [y8] + 1.81 * [y7]")
            .After(321.8122, Accuracy.Strict(1e-11, 1e-15));
        double[] published = Reference.Column("ivp/hires.txt");
        for (int i = 0; i < 8; i++)
            Expect.Relative(published[i], end[i], 1e-7);
    }
}
