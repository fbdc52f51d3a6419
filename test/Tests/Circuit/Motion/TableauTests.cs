using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Motion;

/// <summary>
/// Order conditions of Runge-Kutta methods: Hairer, Nørsett, Wanner, Solving ODEs I, II.2 (table 2.2). They hold to the
/// rounding of the published fractions.
/// </summary>
public sealed class TableauTests
{
    public static TheoryData<string> Names => ["TR-BDF2", "ESDIRK3(2)4", "ESDIRK4(3)6"];

    private static Tableau Named(string name) =>
        new[] { Tableau.TrBdf2, Tableau.Third, Tableau.Fourth }.Single(tableau => tableau.Name == name);

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_stage_reaches_its_time(string name)
    {
        Tableau tableau = Named(name);
        for (int i = 1; i < tableau.Stages; i++)
            Assert.Equal(tableau.C[i], tableau.A[i].Sum(), 1e-14);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_weights_meet_all_conditions_of_their_order(string name)
    {
        Tableau tableau = Named(name);
        AssertOrder(tableau, tableau.A[^1], tableau.Order);
        double[] embedded = [.. tableau.A[^1].Zip(tableau.Error, (b, e) => b - e)];
        AssertOrder(tableau, embedded, tableau.EmbeddedOrder);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Stiff_parts_die_out_in_one_step(string name)
    {
        // L-stability: R(z) = 1 + z·bᵀ(I − zA)⁻¹1 tends to 0 for z → −∞ (Hairer & Wanner, Solving ODEs II, IV.3).
        Tableau tableau = Named(name);
        Assert.True(Math.Abs(Growth(tableau, -1e9)) < 1e-6);
        for (double z = -1e-2; z > -1e6; z *= 1.5)
            Assert.True(Math.Abs(Growth(tableau, z)) <= 1);
    }

    private static double Growth(Tableau tableau, double z)
    {
        double[] stage = new double[tableau.Stages];
        stage[0] = 1;
        for (int i = 1; i < tableau.Stages; i++)
        {
            double sum = 1;
            for (int j = 0; j < i; j++)
                sum += z * tableau.A[i][j] * stage[j];
            stage[i] = sum / (1 - z * tableau.A[i][i]);
        }
        return stage[^1];
    }

    private static void AssertOrder(Tableau tableau, double[] b, int order)
    {
        const double Rounding = 1e-13;
        double[] c = tableau.C;
        Assert.Equal(1, b.Sum(), Rounding);
        Assert.Equal(1.0 / 2, Sum(b, i => c[i]), Rounding);
        if (order < 3)
            return;
        Assert.Equal(1.0 / 3, Sum(b, i => c[i] * c[i]), Rounding);
        Assert.Equal(1.0 / 6, Sum(b, i => Row(tableau, i, j => c[j])), Rounding);
        if (order < 4)
            return;
        Assert.Equal(1.0 / 4, Sum(b, i => c[i] * c[i] * c[i]), Rounding);
        Assert.Equal(1.0 / 8, Sum(b, i => c[i] * Row(tableau, i, j => c[j])), Rounding);
        Assert.Equal(1.0 / 12, Sum(b, i => Row(tableau, i, j => c[j] * c[j])), Rounding);
        Assert.Equal(1.0 / 24, Sum(b, i => Row(tableau, i, j => Row(tableau, j, k => c[k]))), Rounding);
    }

    private static double Sum(double[] b, Func<int, double> term) => b.Select((weight, i) => weight * term(i)).Sum();

    private static double Row(Tableau tableau, int i, Func<int, double> term) =>
        tableau.A[i].Select((a, j) => a * term(j)).Sum();
}
