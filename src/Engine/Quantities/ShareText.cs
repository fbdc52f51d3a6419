using System.Globalization;

namespace Consort.Engine.Quantities;

/// <summary>Shares in words.</summary>
public static class ShareText
{
    /// <summary>In per cent: one decimal, and two where it is nearly nothing or nearly all.</summary>
    /// <param name="share">0 to 1.</param>
    public static string Write(double share) => (100 * share).ToString(share is > 0.1 and < 0.995 ? "0.0" : "0.00", CultureInfo.InvariantCulture) + " %";
}
