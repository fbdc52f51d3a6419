using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>∂f/∂p of one parameter at a point: the rows that it touches.</summary>
internal readonly record struct RowSlopes(int[] Rows, double[] Values)
{
    /// <summary>weights·∂f/∂p.</summary>
    public double Project(double[] weights)
    {
        double sum = 0;
        for (int i = 0; i < Rows.Length; i++)
            sum += Values[i] * weights[Rows[i]];
        return sum;
    }
}

/// <summary>How the whole circuit at rest answers, in first order, to every parameter that differs between builds and to every
/// trimmer: at the lowest, middle and highest note of each temperature.</summary>
internal sealed class RestAnswers
{
    private readonly SparsePattern pattern;
    private readonly LuFactors<double>[][] factors;
    private readonly PartSlopes slope;
    private readonly DrawPlan draws;
    private readonly Dictionary<(int P, int K, int N), RowSlopes> between = []; // at notes that are not looked at

    public RestAnswers(PlayedVoice voice, RestPoints points, DrawPlan draws, PartPlace[] trimmers)
    {
        (Points, pattern, this.draws) = (points, voice.Circuit.Pattern, draws);
        Notes = [.. ((int[])[0, points.Middle, points.Volts.Length - 1]).Distinct()];
        factors = [.. points.Kelvins.Select((_, k) => Notes.Select(n => Factor(voice, points.Slopes[k][n])).ToArray())];
        slope = new(voice.Circuit);
        Slopes = new RowSlopes[points.Kelvins.Length][][];
        for (int k = points.Kelvins.Length - 1; k >= 0; k--)
        {
            voice.Circuit.SetTemperature(points.Kelvins[k]);
            Slopes[k] = [.. Notes.Select(n => SlopesAt(slope, points.X[k][n], draws, trimmers))];
        }
        Length = voice.Circuit.Length;
    }

    /// <summary>Where the design rests.</summary>
    public RestPoints Points { get; }

    /// <summary>The notes looked at, as places in the points' list.</summary>
    public int[] Notes { get; }

    /// <summary>∂f/∂p by temperature, looked-at note and parameter; trimmers' positions after the parameters.</summary>
    public RowSlopes[][][] Slopes { get; }

    /// <summary>∂f/∂p of a parameter at any note; the voice must be at that temperature.</summary>
    public RowSlopes SlopesOf(int parameter, int k, int n)
    {
        if (Array.IndexOf(Notes, n) is >= 0 and int looked)
            return Slopes[k][looked][parameter];
        if (!between.TryGetValue((parameter, k, n), out RowSlopes slopes))
            between[(parameter, k, n)] = slopes = slope.At(draws.Parameters[parameter].Place, draws.Parameters[parameter].Word, Points.X[k][n]);
        return slopes;
    }

    /// <summary>Unknowns and ground.</summary>
    public int Length { get; }

    /// <summary>The matrix at a temperature and a looked-at note.</summary>
    public (SparsePattern Pattern, double[] Values) MatrixAt(int k, int looked) => (pattern, Points.Slopes[k][Notes[looked]]);

    /// <summary>A branch current of the design at a temperature and a looked-at note, A.</summary>
    public double Current(int branch, int k, int looked) => Points.X[k][Notes[looked]][branch];

    /// <summary>Factors at a temperature and a looked-at note.</summary>
    public LuFactors<double> FactorsAt(int k, int looked) => factors[k][looked];

    /// <summary>The adjoint of a timing current, in cents per unit of each row.</summary>
    public double[] Adjoint(int branch, int k, int looked)
    {
        double[] right = new double[Length];
        right[branch] = Cents.PerNeper / Points.X[k][Notes[looked]][branch];
        double[] adjoint = new double[Length];
        factors[k][looked].SolveTransposed(right, adjoint);
        return adjoint;
    }

    /// <summary>dx/dp of a parameter at a temperature and a looked-at note.</summary>
    public double[] Moves(int parameter, int k, int looked)
    {
        double[] right = new double[Length];
        RowSlopes slopes = Slopes[k][looked][parameter];
        for (int i = 0; i < slopes.Rows.Length; i++)
            right[slopes.Rows[i]] = -slopes.Values[i];
        double[] moves = new double[Length];
        factors[k][looked].Solve(right, moves);
        return moves;
    }

    private static RowSlopes[] SlopesAt(PartSlopes slope, double[] x, DrawPlan draws, PartPlace[] trimmers) =>
        [
            .. draws.Parameters.Select(p => slope.At(p.Place, p.Word, x)),
            .. trimmers.Select(place => slope.At(place, "position", x)),
        ];

    private static LuFactors<double> Factor(PlayedVoice voice, double[] matrix)
    {
        if (voice.Circuit.RestProgram is { } known && new LuFactors<double>(known) is { } factors && factors.Factor(matrix))
            return factors;
        LuFactors<double> own = new(LuOrder.Find(voice.Circuit.Pattern, matrix) ?? throw new InvalidOperationException("a rest without a slope"));
        return own.Factor(matrix) ? own : throw new InvalidOperationException("a rest without a slope");
    }
}

/// <summary>∂f/∂p at rest by differences; finer ones for stiff sources of voltage.</summary>
internal sealed class PartSlopes(Circuit.Circuit circuit)
{
    private readonly ParameterSlope ordinary = new(circuit);
    private readonly ParameterSlope fine = new(circuit) { RelativeMove = 1e-9 };

    /// <summary>Of one parameter at a state.</summary>
    public RowSlopes At(PartPlace place, string word, double[] x)
    {
        ParameterSlope slope = place.Bank.Parts[place.Index].Kind.Word is "reference" or "regulator" ? fine : ordinary;
        slope.At(place, word, x, 0, Regime.Rest);
        int[] rows = [.. slope.Rows.Where(row => row > 0 && slope.DF[row] != 0)];
        return new(rows, [.. rows.Select(row => slope.DF[row])]);
    }
}
