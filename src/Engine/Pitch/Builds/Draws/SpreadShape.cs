using System.Collections.Immutable;
using MathNet.Numerics;

namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>How departures lie between the limits −1 and +1 (or, for measured ones, as they were measured).</summary>
public abstract record SpreadShape
{
    /// <summary>The departure below which a share u of all parts lies.</summary>
    public abstract double At(double u);

    /// <summary>Variance of the departures.</summary>
    public abstract double Variance { get; }

    /// <summary>All alike between the limits: what to assume when only limits are known (JCGM 100:2008, 4.3.7).</summary>
    public sealed record Uniform : SpreadShape
    {
        /// <inheritdoc/>
        public override double At(double u) => 2 * u - 1;

        /// <inheritdoc/>
        public override double Variance => 1.0 / 3;
    }

    /// <summary>Normal, with nothing past the limits.</summary>
    /// <param name="Sigmas">Standard deviations (of the uncut distribution) from the middle to the limit.</param>
    public sealed record Normal(double Sigmas) : SpreadShape
    {
        private readonly double below = NormalLaw.Below(-Sigmas);

        /// <inheritdoc/>
        public override double At(double u) => NormalLaw.Quantile(below + u * (1 - 2 * below)) / Sigmas;

        /// <inheritdoc/>
        public override double Variance =>
            (1 - 2 * Sigmas * Math.Exp(-0.5 * Sigmas * Sigmas) / Math.Sqrt(2 * Math.PI) / (1 - 2 * below)) / (Sigmas * Sigmas);
    }

    /// <summary>One of a list of measured departures, each as likely.</summary>
    public sealed record Measured : SpreadShape
    {
        private readonly ImmutableArray<double> sorted;

        /// <summary>From relative departures, in any order.</summary>
        public Measured(IEnumerable<double> departures) => sorted = [.. departures.Order()];

        /// <inheritdoc/>
        public override double At(double u) => sorted[Math.Min((int)(u * sorted.Length), sorted.Length - 1)];

        /// <inheritdoc/>
        public override double Variance
        {
            get
            {
                double mean = sorted.Average();
                return sorted.Average(value => (value - mean) * (value - mean));
            }
        }
    }
}

/// <summary>The normal distribution.</summary>
internal static class NormalLaw
{
    /// <summary>The share below x.</summary>
    public static double Below(double x) => 0.5 * SpecialFunctions.Erfc(-x / Math.Sqrt(2));

    /// <summary>The value below which a share u lies.</summary>
    public static double Quantile(double u) => -Math.Sqrt(2) * SpecialFunctions.ErfcInv(2 * u);
}
