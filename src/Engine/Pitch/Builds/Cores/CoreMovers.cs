using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>Reads the slopes of a core in another state.</summary>
/// <param name="k">Temperature.</param>
/// <param name="notes">Notes.</param>
/// <param name="move">Brings the circuit there.</param>
/// <param name="tilt">dU/d ln I in that state at a note, cents.</param>
internal delegate (CoreReading[]? Readings, SolveFailure? Failure) ReadSlopes(int k, int[] notes, Action<Circuit.Circuit> move, Func<int, double> tilt);

/// <summary>Finds the movers of a core, and what they do past its slopes: by themselves, to the slopes of others, and in
/// pairs.</summary>
internal sealed class CoreMovers(
    PlayedVoice voice,
    DrawPlan draws,
    PartPlace[] trimmers,
    Oscillator oscillator,
    CoreReadings readings,
    int[] known,
    ReadSlopes readSlopes
)
{
    private const double MayCurve = 0.2; // cents: what may have a curve of its own
    private const double Far = 0.03; // of a value: what moves less has none
    private const double Crosses = 5; // cents: what changes the slopes of others
    private const double CurvesMuch = 0.1; // cents past its slopes: what changes them not by a straight line, and pairs
    private const double Shows = 0.01; // cents
    private const double Likely = 1.6; // standard deviations: how far movers are moved to see what they do to others

    private readonly int[] notes = known.Length > 3 ? [known[0], known[^2], known[^1]] : known;
    private readonly int[] ends = known.Length > 2 ? [known[0], known[^1]] : known;
    private readonly CoreCurveReader reader = new(voice.Twin(), draws, oscillator, readings, known.Length > 3 ? [known[0], known[^2], known[^1]] : known);

    /// <summary>Adds them to what is known.</summary>
    /// <param name="plain">Slopes only.</param>
    /// <param name="widths">How far each φ goes.</param>
    public (CoreFindings? Findings, SolveFailure? Failure) Find(CoreFindings plain, double[] widths)
    {
        if (reader.Prepare() is { } unready)
            return (null, unready);
        CoreFindings findings = plain;
        List<int> curved = [];
        foreach ((Mover mover, double size) in Movers(plain, widths))
        {
            (double[][]? own, bool isCurved, SolveFailure? failure) = Own(mover, size, plain);
            if (failure is not null)
                return (null, failure);
            bool crosses = size >= Crosses || isCurved;
            if (own is null && !crosses)
                continue;
            (CoreCurve? curve, failure) = Curve(mover, own, crosses ? Nodes(mover, isCurved) : [], findings);
            if (curve is null)
                return (null, failure);
            if (isCurved)
                curved.Add(findings.Curves.Length);
            findings = findings with { Curves = [.. findings.Curves, curve] };
        }
        return Pairs(findings, curved);
    }

    // Those that move the law far enough to bend it, the farthest first. Each of their parameters hangs on nothing else.
    private IEnumerable<(Mover Mover, double Size)> Movers(CoreFindings plain, double[] widths)
    {
        double Size(int p) => plain.Acts[p] ? widths[p] * plain.Slopes[0].Max(at => Math.Abs(at[p])) : 0;
        int drawn = draws.Parameters.Length;
        IEnumerable<(Mover Mover, double Size)> varied =
            from p in Enumerable.Range(0, drawn)
            where plain.Acts[p] && draws.Parameters[p].Terms.Length == 1
            group p by draws.Parameters[p].Terms[0].Variate into acting
            let size = acting.Sum(Size)
            where size >= Crosses || (size >= MayCurve && acting.Any(p => draws.Parameters[p].Move == MoveKind.Added || widths[p] >= Far))
            select (Mover.Of(draws, acting.Key, [.. acting]), size);
        IEnumerable<(Mover Mover, double Size)> turned = Enumerable
            .Range(drawn, trimmers.Length)
            .Where(p => Size(p) >= Crosses)
            .Select(p => (new Mover([p], [1]), Size(p)));
        return varied.Concat(turned).OrderByDescending(mover => mover.Size).ThenBy(mover => mover.Mover.Phis[0]).ToArray();
    }

    // What a mover adds to the slopes by itself, by known current; null when nothing shows, or when the core stops.
    private (double[][]? Own, bool IsCurved, SolveFailure? Failure) Own(Mover mover, double size, CoreFindings plain)
    {
        if (mover.IsTrimmer(draws) || size < MayCurve)
            return (null, false, null);
        double[][] added = [.. notes.Select(_ => new double[CoreCurve.Nodes.Length])];
        for (int i = 0; i < CoreCurve.Nodes.Length; i++)
        {
            if (i == 2 && !added.Any(row => Math.Abs(row[0]) >= Shows || Math.Abs(row[1]) >= Shows))
                return (null, false, null);
            (double[]? beyond, SolveFailure? failure) = Beyond([(mover, CoreCurve.Nodes[i])], plain);
            if (beyond is null)
                return (null, false, failure);
            if (beyond.Any(double.IsNaN))
                return (null, false, null);
            for (int n = 0; n < notes.Length; n++)
                added[n][i] = beyond[n];
        }
        bool isCurved = added.Max(row => row.Max(Math.Abs)) >= CurvesMuch;
        return (OverCurrents(added).Select(values => CoreCurve.Fit(CoreCurve.Nodes, values)).ToArray(), isCurved, null);
    }

    // What the core does past what is known, at the notes, cents.
    private (double[]? Beyond, SolveFailure? Failure) Beyond((Mover, double)[] stand, CoreFindings findings)
    {
        (double[]? moved, double[] currents, SolveFailure? failure) = reader.Read(stand);
        if (moved is null)
            return (null, failure);
        CurrentWeights over = new(findings.Currents[0]);
        double[] expected = findings.Moved(draws, stand);
        return ([.. moved.Select((m, i) => m - over.At(currents[i]).Zip(expected, (w, e) => w * e).Sum())], null);
    }

    private double[][] OverCurrents(double[][] atNotes)
    {
        CurrentWeights between = new([.. notes.Select(n => readings.Currents[0][n])]);
        return [.. known.Select(n => Rows.Mixed(atNotes, between.At(readings.Currents[0][n])))];
    }

    private double[] Nodes(Mover mover, bool isCurved)
    {
        if (!mover.IsTrimmer(draws))
            return isCurved ? [-Reach(mover), Reach(mover)] : [Reach(mover)];
        PartPlace place = trimmers[mover.Phis[0] - draws.Parameters.Length];
        return [place.Bank.Numbers("position")[place.Index] < 0.5 ? CoreSurvey.TrimmerMove : -CoreSurvey.TrimmerMove];
    }

    private double Reach(Mover mover) => Likely * Math.Sqrt(draws.Variates[draws.Parameters[mover.Phis[0]].Terms[0].Variate].Shape.Variance);

    private (CoreCurve? Curve, SolveFailure? Failure) Curve(Mover mover, double[][]? own, double[] nodes, CoreFindings findings)
    {
        int count = findings.Acts.Length;
        own ??= [.. known.Select(_ => Array.Empty<double>())];
        (double[] First, double[] Second)[] others = [.. known.Select(_ => (new double[count], new double[count]))];
        double[][][] moved = new double[nodes.Length][][];
        for (int i = 0; i < nodes.Length; i++)
        {
            (moved[i], SolveFailure? failure) = MovedSlopes(mover, nodes[i], findings);
            if (failure is not null)
                return (null, failure);
        }
        // A pair is told of by the one that came first.
        HashSet<int> told = [.. findings.Curves.Where(curve => curve.Crosses).SelectMany(curve => curve.Mover.Phis)];
        for (int j = 0; j < known.Length && nodes.Length > 0; j++)
            for (int p = 0; p < count; p++)
                if (findings.Acts[p] && !told.Contains(p))
                {
                    double[] fit = CoreCurve.Fit(nodes, [.. moved.Select(at => at[j][p])]);
                    if (!mover.Phis.Contains(p))
                        (others[j].First[p], others[j].Second[p]) = (fit[0], fit.Length > 1 ? fit[1] : 0);
                    else if (mover.IsTrimmer(draws))
                        own[j] = [0, 0.5 * fit[0]]; // the integral of its own slope
                }
        return (new(mover, own, others), null);
    }

    // By how much all slopes differ at the known currents when a mover stands at d.
    private (double[][] Slopes, SolveFailure? Failure) MovedSlopes(Mover mover, double d, CoreFindings findings)
    {
        CurrentWeights over = new(findings.Currents[0]);
        double Tilt(int n)
        {
            double[] steeper = Rows.Mixed(findings.Slopes[0], over.SlopesAt(readings.Currents[0][n]));
            return readings.Tilt(0, n).First + mover.At(draws, d).Sum(move => steeper[move.Phi] * move.Move);
        }
        (CoreReading[]? read, SolveFailure? failure) = readSlopes(0, ends, circuit => mover.Move(circuit, draws, trimmers, d), Tilt);
        if (read is null)
            return ([], failure);
        double[][] differences = CoreSurvey.Differences(findings.Slopes[0], findings.Currents[0], read);
        CurrentWeights between = new([.. read.Select(r => r.Amperes)]);
        return ([.. findings.Currents[0].Select(current => Rows.Mixed(differences, between.At(current)))], null);
    }

    private (CoreFindings? Findings, SolveFailure? Failure) Pairs(CoreFindings findings, List<int> curved)
    {
        List<CorePair> pairs = [];
        for (int a = 0; a < curved.Count; a++)
            for (int b = a + 1; b < curved.Count; b++)
            {
                (PairTerms[]? terms, SolveFailure? failure) = Pair(findings.Curves[curved[a]].Mover, findings.Curves[curved[b]].Mover, findings);
                if (failure is not null)
                    return (null, failure);
                if (terms is not null)
                    pairs.Add(new(curved[a], curved[b], terms));
            }
        return (findings with { Pairs = [.. pairs] }, null);
    }

    // From the four corners at which both stand far; null when nothing shows at the first two.
    private (PairTerms[]? Terms, SolveFailure? Failure) Pair(Mover first, Mover second, CoreFindings findings)
    {
        (double a, double b) = (Reach(first), Reach(second));
        (double, double)[] corners = [(a, b), (a, -b), (-a, b), (-a, -b)];
        double[][] beyond = [.. notes.Select(_ => new double[corners.Length])];
        for (int c = 0; c < corners.Length; c++)
        {
            if (c == 2 && !beyond.Any(row => Math.Abs(row[0]) >= Shows || Math.Abs(row[1]) >= Shows))
                return (null, null);
            (double[]? at, SolveFailure? failure) = Beyond([(first, corners[c].Item1), (second, corners[c].Item2)], findings);
            if (at is null)
                return (null, failure);
            if (at.Any(double.IsNaN))
                return (null, null);
            for (int n = 0; n < notes.Length; n++)
                beyond[n][c] = at[n];
        }
        return ([.. OverCurrents(beyond).Select(values => PairTerms.Through(a, b, values))], null);
    }
}
