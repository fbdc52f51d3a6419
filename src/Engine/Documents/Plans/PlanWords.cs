using System.Globalization;
using Consort.Engine.Planning;

namespace Consort.Engine.Documents.Plans;

/// <summary>What a table of ways says of one, alike on paper and on screen.</summary>
public static class PlanWords
{
    /// <summary>Share of builds that keep the limits.</summary>
    public static string Yield(WayBuilds builds) => builds.Yield is { } yield ? string.Create(CultureInfo.InvariantCulture, $"{100 * yield.Share:0.0} %") : "unknown";

    /// <summary>Width of the widest range of lock, cents.</summary>
    /// <param name="locks">What was found.</param>
    /// <param name="none">For no pair that is meant to stand within a semitone.</param>
    public static string Locks(WayLock locks, string none) => locks.Widest?.Width.ToString("0.000", CultureInfo.InvariantCulture) ?? none;
}
