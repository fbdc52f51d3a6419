namespace Consort.Engine.Pitch.Builds.Trimming;

/// <summary>The few linear equations of a trimming round, solved for some of the trimmers while the others' moves are
/// given: Gauss elimination with row pivots. A trimmer that does nothing does not move.</summary>
internal sealed class TrimEquations(int count)
{
    private const double Nothing = 1e-9; // share of the largest slope

    private readonly int[] free = new int[count];
    private readonly double[] matrix = new double[count * (count + 1)]; // the right-hand side last
    private int kept;

    /// <summary>One more trimmer whose move is wanted in the next solve, with its own step to bring to nothing.</summary>
    public void Free(int trimmer) => free[kept++] = trimmer;

    /// <summary>Finds the moves m with slopes·m = errors for the free ones' steps; the other moves stay as they are.</summary>
    public void Solve(ReadOnlySpan<double> slopes, ReadOnlySpan<double> errors, Span<double> moves)
    {
        int width = kept + 1;
        for (int a = 0; a < kept; a++)
            moves[free[a]] = 0;
        double largest = 0;
        for (int a = 0; a < kept; a++)
        {
            int i = free[a];
            double right = errors[i];
            for (int j = 0; j < moves.Length; j++)
                right -= slopes[i * moves.Length + j] * moves[j];
            for (int b = 0; b < kept; b++)
            {
                matrix[a * width + b] = slopes[i * moves.Length + free[b]];
                largest = Math.Max(largest, Math.Abs(matrix[a * width + b]));
            }
            matrix[a * width + kept] = right;
        }
        Eliminate(width, Nothing * largest);
        for (int a = kept - 1; a >= 0; a--)
        {
            double sum = matrix[a * width + kept];
            for (int b = a + 1; b < kept; b++)
                sum -= matrix[a * width + b] * moves[free[b]];
            double pivot = matrix[a * width + a];
            moves[free[a]] = Math.Abs(pivot) > Nothing * largest ? sum / pivot : 0;
        }
        kept = 0;
    }

    private void Eliminate(int width, double nothing)
    {
        for (int c = 0; c < kept; c++)
        {
            int pivot = c;
            for (int a = c + 1; a < kept; a++)
                if (Math.Abs(matrix[a * width + c]) > Math.Abs(matrix[pivot * width + c]))
                    pivot = a;
            for (int b = 0; b < width; b++)
                (matrix[c * width + b], matrix[pivot * width + b]) = (matrix[pivot * width + b], matrix[c * width + b]);
            if (!(Math.Abs(matrix[c * width + c]) > nothing))
                continue;
            for (int a = c + 1; a < kept; a++)
            {
                double factor = matrix[a * width + c] / matrix[c * width + c];
                for (int b = c; b < width; b++)
                    matrix[a * width + b] -= factor * matrix[c * width + b];
            }
        }
    }
}
