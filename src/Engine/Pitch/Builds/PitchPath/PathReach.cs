namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>What reaches one oscillator's timing current at rest, in first order.</summary>
/// <param name="Branch">The unknown that is the timing current.</param>
/// <param name="Weights">Largest effect of one half-width of every drawn parameter over temperatures and notes, cents.</param>
/// <param name="TrimWeights">The same of 0.3 turn of every trimmer.</param>
/// <param name="Parameters">Drawn parameters that matter.</param>
/// <param name="Trimmers">Trimmers that matter.</param>
/// <param name="LeftOut">Root-sum-square of the parameters that do not matter, cents.</param>
/// <param name="Directions">By looked-at note at the first temperature: what one half-width of each parameter that matters, then
/// 0.3 turn of each trimmer that matters, does to every unknown.</param>
/// <param name="Adjoints">The timing current's adjoint at those notes, cents per unit of each row.</param>
internal sealed record PathReach(
    int Branch,
    double[] Weights,
    double[] TrimWeights,
    int[] Parameters,
    int[] Trimmers,
    double LeftOut,
    double[][][] Directions,
    double[][] Adjoints
)
{
    private const double Matters = 3e-4; // cents
    private const double TrimmerMove = 0.3;
    private const double TrimmerMatters = 0.01; // cents

    /// <summary>Finds it.</summary>
    /// <param name="answers">The whole circuit's.</param>
    /// <param name="widths">Half-width of every drawn parameter, in the parameter's unit.</param>
    /// <param name="branch">The unknown that is the timing current.</param>
    /// <param name="inBuilds">Effects found in builds, to be counted as well.</param>
    public static PathReach Find(RestAnswers answers, double[] widths, int branch, double[] inBuilds)
    {
        int trimmers = answers.Slopes[0][0].Length - widths.Length;
        double[] moves = [.. widths, .. Enumerable.Repeat(TrimmerMove, trimmers)];
        double[] weights = Weigh(answers, moves, branch);
        for (int p = 0; p < widths.Length; p++)
            weights[p] = Math.Max(weights[p], inBuilds[p]);
        int[] matter = [.. Enumerable.Range(0, moves.Length).Where(p => weights[p] >= (p < widths.Length ? Matters : TrimmerMatters))];
        double left = Math.Sqrt(weights.Take(widths.Length).Where(weight => weight < Matters).Sum(weight => weight * weight));
        return new(
            branch,
            weights[..widths.Length],
            weights[widths.Length..],
            [.. matter.Where(p => p < widths.Length)],
            [.. matter.Where(p => p >= widths.Length).Select(p => p - widths.Length)],
            left,
            [.. answers.Notes.Select((_, n) => matter.Select(p => Scaled(answers.Moves(p, 0, n), moves[p])).ToArray())],
            [.. answers.Notes.Select((_, n) => answers.Adjoint(branch, 0, n))]
        );
    }

    private static double[] Scaled(double[] vector, double factor) => [.. vector.Select(value => value * factor)];

    private static double[] Weigh(RestAnswers answers, double[] moves, int branch)
    {
        double[] weights = new double[moves.Length];
        for (int k = 0; k < answers.Slopes.Length; k++)
            for (int n = 0; n < answers.Notes.Length; n++)
            {
                double[] adjoint = answers.Adjoint(branch, k, n);
                for (int p = 0; p < moves.Length; p++)
                    weights[p] = Math.Max(weights[p], Math.Abs(moves[p] * answers.Slopes[k][n][p].Project(adjoint)));
            }
        return weights;
    }
}
