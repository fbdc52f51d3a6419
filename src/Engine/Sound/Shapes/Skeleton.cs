namespace Consort.Engine.Sound.Shapes;

/// <summary>The few straight lines that stay near a wave of many points: the line simplification of Ramer (Computer Graphics
/// and Image Processing 1 (1972) 244) and of Douglas and Peucker (Cartographica 10 (1973) 112), by vertical distance.</summary>
public static class Skeleton
{
    /// <summary>The points to keep, by number, first and last included.</summary>
    public static List<int> Keep(ReadOnlySpan<double> xs, ReadOnlySpan<double> ys, double within)
    {
        List<int> kept = [0];
        Stack<(int From, int To)> open = new([(0, xs.Length - 1)]);
        while (open.TryPop(out (int From, int To) piece))
        {
            int furthest = Furthest(xs, ys, piece.From, piece.To, within);
            if (furthest < 0)
            {
                kept.Add(piece.To);
                continue;
            }
            open.Push((furthest, piece.To));
            open.Push((piece.From, furthest)); // the left one is taken first: points come in order
        }
        return kept;
    }

    private static int Furthest(ReadOnlySpan<double> xs, ReadOnlySpan<double> ys, int from, int to, double within)
    {
        double length = xs[to] - xs[from];
        (int furthest, double most) = (-1, within);
        for (int i = from + 1; i < to; i++)
        {
            double chord = length > 0 ? ys[from] + (ys[to] - ys[from]) * (xs[i] - xs[from]) / length : ys[from];
            double distance = Math.Abs(ys[i] - chord);
            if (distance > most)
                (furthest, most) = (i, distance);
        }
        return furthest;
    }
}
