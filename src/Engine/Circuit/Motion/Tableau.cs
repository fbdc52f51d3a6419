namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// A singly diagonally implicit Runge-Kutta method with an explicit first stage, stiffly accurate and L-stable, with an
/// embedded method for the local error: ESDIRK in Kennedy &amp; Carpenter, Diagonally Implicit Runge-Kutta Methods for
/// Ordinary Differential Equations: A Review, NASA/TM-2016-219173.
/// </summary>
/// <param name="Name">For reports.</param>
/// <param name="Order">Order of the method.</param>
/// <param name="EmbeddedOrder">Order of the embedded method.</param>
/// <param name="C">Time of each stage as a share of the step.</param>
/// <param name="A">Lower triangle, a row a stage; the last row is b.</param>
/// <param name="Error">b minus the embedded weights.</param>
public sealed record Tableau(string Name, int Order, int EmbeddedOrder, double[] C, double[][] A, double[] Error)
    : StepMethod(Name, Order, EmbeddedOrder)
{
    /// <summary>The diagonal.</summary>
    public double Gamma => A[^1][^1];

    /// <inheritdoc/>
    public override int Stages => C.Length;

    internal override StepMaker Maker(Circuit circuit, Accuracy accuracy, IEnumerable<int> reads) => new StageMaker(circuit, this, accuracy, reads, new(circuit));

    /// <summary>TR-BDF2 as an ESDIRK method: Hosea &amp; Shampine, Appl. Numer. Math. 20 (1996) 21; order 2(3).</summary>
    public static Tableau TrBdf2 { get; } = MakeTrBdf2();

    /// <summary>ARK3(2)4L[2]SA's implicit part: Kennedy &amp; Carpenter, Appl. Numer. Math. 44 (2003) 139.</summary>
    public static Tableau Third { get; } = MakeThird();

    /// <summary>ARK4(3)6L[2]SA's implicit part: the same paper.</summary>
    public static Tableau Fourth { get; } = MakeFourth();

    private static Tableau MakeTrBdf2()
    {
        double gamma = 2 - Math.Sqrt(2);
        double d = gamma / 2;
        double w = Math.Sqrt(2) / 4;
        double[] embedded = [(1 - w) / 3, (3 * w + 1) / 3, d / 3];
        double[] b = [w, w, d];
        return new("TR-BDF2", 2, 3, [0, gamma, 1], [[], [d, d], b], Difference(b, embedded));
    }

    private static Tableau MakeThird()
    {
        const double Gamma = 1767732205903.0 / 4055673282236.0;
        double[] b =
        [
            1471266399579.0 / 7840856788654.0,
            -4482444167858.0 / 7529755066697.0,
            11266239266428.0 / 11593286722821.0,
            Gamma,
        ];
        double[] embedded =
        [
            2756255671327.0 / 12835298489170.0,
            -10771552573575.0 / 22201958757719.0,
            9247589265047.0 / 10645013368117.0,
            2193209047091.0 / 5459859503100.0,
        ];
        double[][] a =
        [
            [],
            [Gamma, Gamma],
            [2746238789719.0 / 10658868560708.0, -640167445237.0 / 6845629431997.0, Gamma],
            b,
        ];
        return new("ESDIRK3(2)4", 3, 2, [0, 2 * Gamma, 0.6, 1], a, Difference(b, embedded));
    }

    private static Tableau MakeFourth()
    {
        double[] b = [82889.0 / 524892, 0, 15625.0 / 83664, 69875.0 / 102672, -2260.0 / 8211, 0.25];
        double[] embedded =
        [
            4586570599.0 / 29645900160.0,
            0,
            178811875.0 / 945068544,
            814220225.0 / 1159782912,
            -3700637.0 / 11593932,
            61727.0 / 225920,
        ];
        double[][] a =
        [
            [],
            [0.25, 0.25],
            [8611.0 / 62500, -1743.0 / 31250, 0.25],
            [5012029.0 / 34652500, -654441.0 / 2922500, 174375.0 / 388108, 0.25],
            [15267082809.0 / 155376265600.0, -71443401.0 / 120774400, 730878875.0 / 902184768, 2285395.0 / 8070912, 0.25],
            b,
        ];
        return new("ESDIRK4(3)6", 4, 3, [0, 0.5, 0.332, 0.62, 0.85, 1], a, Difference(b, embedded));
    }

    private static double[] Difference(double[] b, double[] embedded) => [.. b.Zip(embedded, (x, y) => x - y)];
}
