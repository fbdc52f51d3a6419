namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// A linearly implicit (Rosenbrock-Wanner) method, stiffly accurate and L-stable, with an embedded method for the local
/// error, in the form that needs no product with the Jacobian: Hairer &amp; Wanner, Solving Ordinary Differential
/// Equations II, 2nd ed. 1996, sections IV.7 and VI.3. The last stage starts where the embedded method ends, and its
/// increment is the error.
/// </summary>
/// <param name="Name">For reports.</param>
/// <param name="Order">Order of the method.</param>
/// <param name="EmbeddedOrder">Order of the embedded method.</param>
/// <param name="Gamma">The diagonal.</param>
/// <param name="C">Time of each stage as a share of the step.</param>
/// <param name="A">Lower triangle, a row a stage: the increments that lead to the state where it is evaluated.</param>
/// <param name="Coupling">Lower triangle: the earlier increments' part in its equation.</param>
/// <param name="D">The derivative by time's part in its equation, a share of the step.</param>
public sealed record Rosenbrock(
    string Name,
    int Order,
    int EmbeddedOrder,
    double Gamma,
    double[] C,
    double[][] A,
    double[][] Coupling,
    double[] D
) : StepMethod(Name, Order, EmbeddedOrder)
{
    /// <inheritdoc/>
    public override int Stages => C.Length;

    internal override StepMaker Maker(Circuit circuit, Accuracy accuracy, IEnumerable<int> reads) => new LinearMaker(circuit, this, accuracy, reads, new(circuit));

    /// <summary>RODAS: the book's own, order 4(3).</summary>
    public static Rosenbrock Rodas { get; } =
        new(
            "RODAS4(3)6",
            4,
            3,
            0.25,
            [0, 0.386, 0.21, 0.63, 1, 1],
            [
                [],
                [1.544],
                [0.9466785280815826, 0.2557011698983284],
                [3.314825187068521, 2.896124015972201, 0.9986419139977817],
                [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950],
                [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1],
            ],
            [
                [],
                [-5.6688],
                [-2.430093356833875, -0.2063599157091915],
                [-0.1073529058151375, -9.594562251023355, -20.47028614809616],
                [7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160],
                [8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
            ],
            [0.25, -0.1043, 0.1035, -0.0362, 0, 0]
        );
}
