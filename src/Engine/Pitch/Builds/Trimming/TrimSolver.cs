namespace Consort.Engine.Pitch.Builds.Trimming;

/// <summary>The trimmers of one build: what it takes to bring all steps to nothing. Newton's method whose slopes learn from
/// every reading (Broyden, Math. Comp. 19 (1965) 577); a trimmer that comes to its end stays there, its own step is given
/// up, and the others go on without it.</summary>
internal sealed class TrimSolver
{
    private const double Enough = 0.02; // cents

    private readonly TrimSheet sheet;
    private readonly int count;
    private readonly double[] slopes;
    private readonly double[] errors;
    private readonly double[] before;
    private readonly double[] moves;
    private readonly TrimEquations equations;
    private bool isFirst;

    public TrimSolver(TrimSheet sheet)
    {
        (this.sheet, count) = (sheet, sheet.Count);
        (slopes, errors, before, moves) = (new double[count * count], new double[count], new double[count], new double[count]);
        (Positions, IsStuck) = (new double[count], new bool[count]);
        equations = new(count);
    }

    /// <summary>Where the trimmers stand, 0 to 1.</summary>
    public double[] Positions { get; }

    /// <summary>Trimmers that came to an end.</summary>
    public bool[] IsStuck { get; }

    /// <summary>True when nothing is left to do.</summary>
    public bool IsDone { get; private set; }

    /// <summary>Starts a new build.</summary>
    public void Begin()
    {
        sheet.Slopes.CopyTo(slopes, 0);
        sheet.Start.CopyTo(Positions, 0);
        Array.Clear(IsStuck);
        (isFirst, IsDone) = (true, false);
    }

    /// <summary>Takes what was read with the trimmers where they stand, and turns them.</summary>
    public void Turn(ReadOnlySpan<double> read)
    {
        if (IsDone)
            return;
        if (!isFirst)
            Learn(read);
        isFirst = false;
        read.CopyTo(errors);
        IsDone = IsNear();
        if (IsDone)
            return;
        Positions.CopyTo(before, 0);
        Newton();
        IsDone = Positions.AsSpan().SequenceEqual(before);
    }

    /// <summary>Sets every trimmer as finely as a hand can, in order; those that come later take up what is left over.</summary>
    public void Round()
    {
        Array.Clear(errors);
        for (int j = 0; j < count; j++)
        {
            double rounded = Math.Round(Positions[j] / sheet.Resolution[j]) * sheet.Resolution[j];
            Array.Clear(moves);
            moves[j] = Positions[j] - rounded;
            Positions[j] = rounded;
            for (int i = j + 1; i < count; i++)
                if (!IsStuck[i])
                    equations.Free(i);
            equations.Solve(slopes, errors, moves);
            for (int i = j + 1; i < count; i++)
                Positions[i] = Math.Clamp(Positions[i] - moves[i], 0, 1);
        }
    }

    private bool IsNear()
    {
        bool near = true;
        for (int i = 0; i < count; i++)
        {
            if (double.IsNaN(errors[i]))
                return true; // a build without a pitch is left alone
            near &= IsStuck[i] || Math.Abs(errors[i]) < Enough;
        }
        return near;
    }

    private void Learn(ReadOnlySpan<double> read)
    {
        double square = 0;
        for (int j = 0; j < count; j++)
            square += (Positions[j] - before[j]) * (Positions[j] - before[j]);
        for (int i = 0; i < count; i++)
        {
            double surprise = read[i] - errors[i];
            for (int j = 0; j < count; j++)
                surprise -= slopes[i * count + j] * (Positions[j] - before[j]);
            for (int j = 0; j < count; j++)
                slopes[i * count + j] += surprise * (Positions[j] - before[j]) / square;
        }
    }

    private void Newton()
    {
        Array.Clear(IsStuck);
        Array.Clear(moves);
        for (int stuck = 0; stuck <= count; stuck++)
        {
            for (int j = 0; j < count; j++)
                if (!IsStuck[j])
                    equations.Free(j);
            equations.Solve(slopes, errors, moves);
            int beyond = Beyond();
            if (beyond < 0)
                break;
            IsStuck[beyond] = true;
            moves[beyond] = before[beyond] - Math.Clamp(before[beyond] - moves[beyond], 0, 1);
        }
        for (int j = 0; j < count; j++)
            Positions[j] = before[j] - moves[j];
    }

    private int Beyond()
    {
        for (int j = 0; j < count; j++)
            if (!IsStuck[j] && before[j] - moves[j] is < 0 or > 1)
                return j;
        return -1;
    }
}
