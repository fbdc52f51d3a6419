using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Quantities that have to lie within limits.</summary>
internal static class RangeInput
{
    /// <summary>An entry's quantity, or the fallback when it is not there or wrong; an error when it is out of range.</summary>
    public static double InRange(
        this MapReader map,
        string key,
        Dimension dimension,
        double fallback,
        double low,
        double high,
        bool bare = false,
        bool whole = false
    )
    {
        if (map.Number(key, dimension, bare) is not { } value)
            return fallback;
        if (value >= low && value <= high && !(whole && value != Math.Floor(value)))
            return value;
        string from = QuantityText.Write(low, dimension);
        string to = QuantityText.Write(high, dimension);
        map.Errors.Add(ErrorCodes.OutOfRange, map.Map.Find(key)!.Value.At, $"{map.Who}: {key} cannot be so",
            $"it is {(whole ? "a whole number " : "")}from {from} to {to}");
        return fallback;
    }
}
