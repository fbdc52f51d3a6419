namespace Consort.Engine.Fit;

/// <summary>
/// What is left after trimmers were turned one by one, each until its note sounds as it should: linear about the end. The error
/// d of the foretold pitch is carried along; turning trimmer j at its note takes the error there down to the hand's own and
/// spreads it over the keyboard by the trimmer's slopes.
/// </summary>
/// <param name="slopes">By note and trimmer, cents per travel.</param>
/// <param name="notes">By trimmer: the note at which it is watched.</param>
/// <param name="hand">By trimmer: standard error of setting it there, cents.</param>
internal sealed class TurnOrder(double[][] slopes, int[] notes, double[] hand)
{
    /// <summary>Covariance of what is left, and of where each trimmer ends, from that of the errors foretold.</summary>
    public (double[][] Left, double[] Positions) After(double[][] foretold, IReadOnlyList<int> order)
    {
        int count = foretold.Length;
        double[][] left = [.. foretold.Select(row => (double[])row.Clone())];
        double[] positions = new double[hand.Length];
        foreach (int j in order)
        {
            int at = notes[j];
            double own = slopes[at][j], noise = hand[j] * hand[j];
            positions[j] = Math.Sqrt(Math.Max(0, left[at][at]) + noise) / Math.Abs(own);
            double[] share = [.. slopes.Select(row => row[j] / own)];
            double[] column = [.. left.Select(row => row[at])];
            double corner = column[at];
            for (int a = 0; a < count; a++)
                for (int b = 0; b < count; b++)
                    left[a][b] += -share[a] * column[b] - column[a] * share[b] + share[a] * share[b] * (corner + noise);
        }
        return (left, positions);
    }

    /// <summary>All orders of a few trimmers.</summary>
    public static IEnumerable<int[]> All(IReadOnlyList<int> turned) =>
        turned.Count == 0
            ? [[]]
            : turned.SelectMany(first => All([.. turned.Where(other => other != first)]).Select(rest => (int[])[first, .. rest]));
}
