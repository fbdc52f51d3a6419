namespace Consort.Engine.Quantities;

/// <summary>The middle one of some values, the upper one of two.</summary>
internal static class Median
{
    /// <summary>0 when there is no value.</summary>
    public static double Of(IEnumerable<double> values) => OfOwn([.. values]);

    /// <summary>The same; what is given stays as it is.</summary>
    public static double Of(ReadOnlySpan<double> values) => OfOwn(values.ToArray());

    private static double OfOwn(double[] values)
    {
        Array.Sort(values);
        return values.Length == 0 ? 0 : values[values.Length / 2];
    }
}
