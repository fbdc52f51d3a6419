using System.Collections.Immutable;
using System.Globalization;

namespace Consort.Engine.Pitch.Live;

/// <summary>How far estimates lay from what was read afterwards, over one sitting.</summary>
internal sealed class EstimateRecord
{
    private readonly Lock guard = new();
    private int compared;
    private double worst;

    /// <summary>Compares an estimate with what was read of the same design.</summary>
    public void Compare(ImmutableArray<TrackingCurve> estimate, ImmutableArray<TrackingCurve> read)
    {
        if (estimate.Length != read.Length || estimate.IsEmpty)
            return;
        double largest = estimate.Zip(read).Max(pair => pair.First.Points.Zip(pair.Second.Points).Max(points => Difference(points.First.Cents, points.Second.Cents)));
        lock (guard)
            (compared, worst) = (compared + 1, Math.Max(worst, largest));
    }

    /// <summary>How good an estimate is, in a sentence.</summary>
    /// <param name="doubt">What the laws may have left out of this one, cents.</param>
    public string Sureness(double doubt)
    {
        lock (guard)
        {
            string before = compared switch
            {
                0 => "none has been compared with a reading yet",
                1 => $"the one compared with a reading so far lay within {Text(worst)} cents of it",
                _ => $"the {compared} compared with readings so far lay within {Text(worst)} cents of them",
            };
            return $"estimate by the laws last read; {before}" + (doubt >= 0.001 ? $"; the laws leave out up to {Text(doubt)} cents of it" : "");
        }
    }

    private static double Difference(double estimated, double read) =>
        double.IsNaN(estimated) == double.IsNaN(read) ? (double.IsNaN(read) ? 0 : Math.Abs(estimated - read)) : double.PositiveInfinity;

    private static string Text(double cents) => cents.ToString("0.000", CultureInfo.InvariantCulture);
}
