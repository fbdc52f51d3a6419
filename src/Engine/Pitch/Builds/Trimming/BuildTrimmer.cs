using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.Trimming;

/// <summary>Trims one oscillator in as many builds as there are lanes, as a person does: by its sheet, within its trimmers'
/// range, as finely as a hand can set them.</summary>
internal sealed class BuildTrimmer<T>
    where T : struct, ILanes<T>
{
    private const int MostRounds = 12;

    private readonly TrimSheet sheet;
    private readonly BuildReader<T> reader;
    private readonly TrimSolver[] solvers;
    private readonly double[] lanes = new double[T.Count];
    private readonly double[] errors; // by lane and step
    private readonly double[] own;

    public BuildTrimmer(TrimSheet sheet, BuildReader<T> reader)
    {
        (this.sheet, this.reader) = (sheet, reader);
        solvers = [.. Enumerable.Range(0, T.Count).Select(_ => new TrimSolver(sheet))];
        errors = new double[T.Count * sheet.Count];
        own = new double[T.Count];
    }

    /// <summary>Rounds of reading and turning so far.</summary>
    public long Rounds { get; private set; }

    /// <summary>True when a build's trimmer came to an end.</summary>
    public bool IsStuck(int lane, int step) => solvers[lane].IsStuck[step];

    /// <summary>Where a build's trimmer stands, 0 to 1.</summary>
    public double Position(int lane, int step) => solvers[lane].Positions[step];

    /// <summary>Trims. The reader has the builds and the bench's temperature.</summary>
    /// <param name="positions">By trimmer of the voice; those of the sheet are set, and the reader is left turned so.</param>
    /// <param name="isExact">Sets them as exactly as can be read, finer than a hand can.</param>
    public void Run(Span<T> positions, bool isExact = false)
    {
        foreach (TrimSolver solver in solvers)
            solver.Begin();
        Set(positions);
        for (int round = 0; round < MostRounds && !Array.TrueForAll(solvers, solver => solver.IsDone); round++)
        {
            Rounds++;
            Read();
            for (int lane = 0; lane < T.Count; lane++)
                solvers[lane].Turn(errors.AsSpan(lane * sheet.Count, sheet.Count));
            Set(positions);
        }
        if (!isExact)
            foreach (TrimSolver solver in solvers)
                solver.Round();
        Set(positions);
    }

    private void Read()
    {
        for (int step = 0; step < sheet.Count; step++)
        {
            T.Store(sheet.Error(reader, step), lanes);
            for (int lane = 0; lane < T.Count; lane++)
                errors[lane * sheet.Count + step] = lanes[lane];
        }
    }

    private void Set(Span<T> positions)
    {
        for (int step = 0; step < sheet.Count; step++)
        {
            for (int lane = 0; lane < T.Count; lane++)
                own[lane] = solvers[lane].Positions[step];
            positions[sheet.Trimmers[step]] = T.From(own);
        }
        reader.Turn(positions);
    }
}
