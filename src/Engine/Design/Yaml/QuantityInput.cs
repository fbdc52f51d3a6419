using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads quantities out of a file: a value in SI units or an error with its place.</summary>
public static class QuantityInput
{
    /// <summary>The quantity; null, with an error, when the text is none.</summary>
    /// <param name="who">Part or entry, for the message.</param>
    /// <param name="bare">True where a number without unit is enough.</param>
    public static double? Quantity(this ErrorList errors, YamlText text, Dimension dimension, string who, bool bare = false) =>
        errors.Quantity(text.Value, text.At, dimension, who, bare);

    /// <summary>The same of a text that stands elsewhere.</summary>
    public static double? Quantity(this ErrorList errors, string text, SourceSpan at, Dimension dimension, string who, bool bare = false)
    {
        if (Quantities.Quantity.TryRead(text, dimension, bare, out double value, out QuantityFault? fault))
            return value;
        ErrorCode code = fault!.Kind switch
        {
            QuantityFaultKind.NoUnit => ErrorCodes.NoUnit,
            QuantityFaultKind.OtherDimension => ErrorCodes.OtherDimension,
            _ => ErrorCodes.NotAQuantity,
        };
        errors.Add(code, at, $"{who}: {fault.What}", fault.Mend);
        return null;
    }
}
