using Xunit;

namespace Consort.Tests.Circuit;

/// <summary>Comparisons that say what they compared.</summary>
internal static class Expect
{
    /// <summary>Fails unless a value agrees with the expected one within a share of it.</summary>
    public static void Relative(double expected, double actual, double share) =>
        Assert.True(
            Math.Abs(actual - expected) <= share * Math.Abs(expected),
            $"expected {expected:R}, got {actual:R}: off by {(actual - expected) / expected:E2}, allowed {share:E1}"
        );

    /// <summary>Fails unless a value agrees with the expected one within a distance.</summary>
    public static void Within(double expected, double actual, double distance) =>
        Assert.True(
            Math.Abs(actual - expected) <= distance,
            $"expected {expected:R}, got {actual:R}: off by {actual - expected:E2}, allowed {distance:E1}"
        );

    /// <summary>The interval between two values of a frequency or current, cents.</summary>
    public static double Cents(double from, double to) =>
        Engine.Quantities.Cents.Between(new(from), new(to)).Value;
}
