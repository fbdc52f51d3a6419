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
    private const double Bends = 3; // cents from end to end: a trimmer that levels the keyboard
    private const double Crosses = 12; // cents: what changes the slopes of others
    private const double CurvesMuch = 0.1; // cents past its slopes: what changes those of others, and not by a straight line
    private const double Seen = 0.01; // cents
    private const double Likely = 1.6; // standard deviations: how far movers are moved to see what they do to others

    private readonly int[] notes = known.Length > 3 ? [known[0], known[^2], known[^1]] : known;
    private readonly int[] ends = known.Length > 2 ? [known[0], known[^1]] : known;
    private readonly CoreCurveReader reader = new(voice.Twin(), draws, trimmers, oscillator, readings);

    /// <summary>Adds them to what is known.</summary>
    /// <param name="plain">Slopes only.</param>
    /// <param name="widths">How far each φ goes.</param>
    public (CoreFindings? Findings, SolveFailure? Failure) Find(CoreFindings plain, double[] widths)
    {
        if (reader.Prepare() is { } unready)
            return (null, unready);
        CoreFindings findings = plain;
        List<int> paired = [];
        foreach ((Mover mover, double size) in Movers(plain, widths))
        {
            (double[][]? own, double most, SolveFailure? failure) = MayHaveCurve(mover, size, widths) ? Own(mover, plain) : (null, 0, null);
            if (failure is not null)
                return (null, failure);
            bool crosses = size >= Crosses || most >= CurvesMuch;
            if (own is null && !crosses)
                continue;
            (CoreCurve? curve, failure) = Curve(mover, own, crosses ? Nodes(mover, most >= CurvesMuch) : [], findings);
            if (curve is null)
                return (null, failure);
            if (most >= CurvesMuch)
                paired.Add(findings.Curves.Length);
            findings = findings with { Curves = [.. findings.Curves, curve] };
        }
        return FindPairs(findings, paired);
    }

    private bool MayHaveCurve(Mover mover, double size, double[] widths) =>
        !mover.IsTrimmer(draws) && size >= MayCurve && mover.Phis.Any(p => draws.Parameters[p].Move == MoveKind.Added || widths[p] >= Far);

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
            let mover = Mover.Of(draws, acting.Key, [.. acting])
            where size >= Crosses || MayHaveCurve(mover, size, widths)
            select (mover, size);
        IEnumerable<(Mover Mover, double Size)> turned = Enumerable
            .Range(drawn, trimmers.Length)
            .Where(p => Size(p) >= Crosses)
            .Select(p => (new Mover([p], [1]), Size(p)));
        return varied.Concat(turned).OrderByDescending(mover => mover.Size).ThenBy(mover => mover.Mover.Phis[0]).ToArray();
    }

    // What a mover adds to the slopes by itself, by known current, and the most of it; null when nothing shows at the topmost
    // note and the ends of its spread, or when the core stops.
    private (double[][]? Own, double Most, SolveFailure? Failure) Own(Mover mover, CoreFindings plain)
    {
        (double[][]? first, SolveFailure? failure) = Beyond([.. CoreCurve.Ends.Select(d => ((Mover, double)[])[(mover, d)])], [known[^1]], plain);
        if (first is null || !first.Any(Shows))
            return (null, 0, failure);
        double[] nodes = first.Max(at => Math.Abs(at[0])) >= CurvesMuch ? CoreCurve.Nodes : CoreCurve.FewNodes;
        (double[][]? added, failure) = Beyond([.. nodes.Select(d => ((Mover, double)[])[(mover, d)])], notes, plain);
        if (added is null)
            return (null, 0, failure);
        return ([.. ByCurrent(added).Select(values => CoreCurve.Fit(nodes, values))], added.Max(at => at.Max(Math.Abs)), null);
    }

    private static bool Shows(double[] cents) => Array.Exists(cents, c => Math.Abs(c) >= Seen);

    // What the core does past what is known, with movers standing in some ways, cents: at the known currents, from some notes,
    // of whose currents the movers make others; or at one note. Null when it stops.
    private (double[][]? Beyond, SolveFailure? Failure) Beyond((Mover, double)[][] stands, int[] at, CoreFindings findings)
    {
        CurrentWeights over = new(findings.Currents[0]);
        double[][] beyond = new double[stands.Length][];
        for (int i = 0; i < stands.Length; i++)
        {
            (double[]? moved, double[] currents, SolveFailure? failure) = reader.Read(stands[i], at);
            if (moved is null || moved.Any(double.IsNaN))
                return (null, failure);
            double[] expected = findings.Moved(draws, stands[i]);
            double[] past = [.. moved.Select((m, n) => m - over.At(currents[n]).Zip(expected, (w, e) => w * e).Sum())];
            beyond[i] = at.Length == 1 ? past : AtKnown(past, currents);
        }
        return (beyond, null);
    }

    private double[] AtKnown(double[] values, double[] currents)
    {
        CurrentWeights between = new(currents);
        return [.. known.Select(n => between.At(readings.Currents[0][n]).Zip(values, (w, v) => w * v).Sum())];
    }

    private double[][] ByCurrent(double[][] stands) => [.. known.Select((_, j) => stands.Select(at => at[j]).ToArray())];

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

    private (CoreFindings? Findings, SolveFailure? Failure) FindPairs(CoreFindings findings, List<int> paired)
    {
        List<CorePair> pairs = [];
        for (int a = 0; a < paired.Count; a++)
            for (int b = a + 1; b < paired.Count; b++)
            {
                (PairTerms[]? terms, SolveFailure? failure) = Pair(findings.Curves[paired[a]].Mover, findings.Curves[paired[b]].Mover, findings);
                if (failure is not null)
                    return (null, failure);
                if (terms is not null)
                    pairs.Add(new(paired[a], paired[b], terms));
            }
        return (findings with { Pairs = [.. pairs] }, null);
    }

    // From the four corners at which both stand far, each trimmed; null when nothing shows at two of them and the topmost note.
    private (PairTerms[]? Terms, SolveFailure? Failure) Pair(Mover first, Mover second, CoreFindings findings)
    {
        (double a, double b) = (Reach(first), Reach(second));
        (Mover, double)[] Corner(double x, double y) => Trimmed([(first, x), (second, y)], findings);
        (Mover, double)[][] corners = [Corner(a, b), Corner(a, -b), Corner(-a, b), Corner(-a, -b)];
        (double[][]? two, SolveFailure? failure) = Beyond(corners[..2], [known[^1]], findings);
        if (two is null || !two.Any(Shows))
            return (null, failure);
        (double[][]? all, failure) = Beyond([.. corners, Corner(a / 2, b / 2), Corner(a / 2, -b / 2)], notes, findings);
        if (all is null)
            return (null, failure);
        return ([.. ByCurrent(all).Select(values => PairTerms.Through(a, b, values))], null);
    }

    // With the core's own trimmer where it levels the ends of the keyboard: builds are read trimmed, so that what this trimmer
    // changes in what two movers do together belongs to the two.
    private (Mover, double)[] Trimmed((Mover, double)[] stands, CoreFindings findings)
    {
        if (Levelling(findings) is not { } trimmer)
            return stands;
        double bent = Bend(findings.Moved(draws, stands));
        double more = Bend(findings.Moved(draws, [.. stands, (trimmer, CoreSurvey.TrimmerMove)])) - bent;
        PartPlace place = trimmers[trimmer.Phis[0] - draws.Parameters.Length];
        double position = place.Bank.Numbers("position")[place.Index];
        return [.. stands, (trimmer, Math.Clamp(-bent / more * CoreSurvey.TrimmerMove, -position, 1 - position))];
    }

    private static double Bend(double[] cents) => cents[^1] - cents[0];

    // The trimmer that bends the law most from end to end; null when none does.
    private Mover? Levelling(CoreFindings findings)
    {
        double Turns(int p) => Math.Abs(findings.Slopes[0][^1][p] - findings.Slopes[0][0][p]) * CoreSurvey.TrimmerMove;
        int most = Enumerable.Range(draws.Parameters.Length, trimmers.Length).Where(p => findings.Acts[p]).OrderByDescending(Turns).FirstOrDefault(-1);
        if (most < 0 || Turns(most) < Bends)
            return null;
        return Array.Find(findings.Curves, curve => curve.Mover.Phis[0] == most)?.Mover ?? new([most], [1]);
    }
}
