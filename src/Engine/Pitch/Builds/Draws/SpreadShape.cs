using System.Collections.Immutable;
using Consort.Engine.Pitch.Builds.Lanes;
using MathNet.Numerics;

namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>How departures lie between the limits −1 and +1 (or, for measured ones, as they were measured).</summary>
public abstract record SpreadShape
{
    /// <summary>The departure below which a share u of all parts lies.</summary>
    public abstract double At(double u);

    /// <summary>The same for many shares, in place.</summary>
    public virtual void Place(Span<double> shares)
    {
        foreach (ref double share in shares)
            share = At(share);
    }

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
        public override double At(double u)
        {
            Span<double> one = [u];
            Place(one);
            return one[0];
        }

        /// <inheritdoc/>
        public override void Place(Span<double> shares)
        {
            int at = 0;
            for (; at + Four.Count <= shares.Length; at += Four.Count)
                Four.Store(Quantile(Four.From(shares[at..])), shares[at..]);
            for (; at < shares.Length; at++)
                One.Store(Quantile(One.From(shares[at..])), shares[at..]);
        }

        private T Quantile<T>(T share)
            where T : struct, ILanes<T> => NormalLaw.Quantile(T.Fma(share, T.Of(1 - 2 * below), T.Of(below))) / T.Of(Sigmas);

        /// <inheritdoc/>
        public override double Variance =>
            (1 - 2 * Sigmas * Math.Exp(-0.5 * Sigmas * Sigmas) / Math.Sqrt(2 * Math.PI) / (1 - 2 * below)) / (Sigmas * Sigmas);
    }

    /// <summary>What the pieces of a reel share: no departure of its own.</summary>
    public sealed record Reel : SpreadShape
    {
        /// <inheritdoc/>
        public override double At(double u) => u;

        /// <inheritdoc/>
        public override double Variance => 1.0 / 12;
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

    /// <summary>The same in lanes, for shares from 1e-11 to 1 − 1e-11: algorithm AS 241, PPND16 (Wichura, Applied Statistics 37
    /// (1988) 477; its coefficients from memory, compared with another routine in the tests).</summary>
    public static T Quantile<T>(T u)
        where T : struct, ILanes<T>
    {
        T q = u - T.Of(0.5);
        T r = T.Of(0.180625) - q * q;
        T middle = q * Ratio(r, Middle);
        T tail = T.Min(u, T.Of(1) - u);
        T s = T.Sqrt(-LaneMath.Log(T.Max(tail, T.Of(1e-300)))) - T.Of(1.6);
        T outside = Ratio(s, Tail);
        outside = T.Choose(T.Less(q, T.Of(0)), -outside, outside);
        return T.Choose(T.Less(T.Of(0.425), T.Abs(q)), outside, middle);
    }

    private static T Ratio<T>(T x, double[] coefficients)
        where T : struct, ILanes<T>
    {
        T above = T.Of(coefficients[7]);
        T below = T.Of(coefficients[15]);
        for (int i = 6; i >= 0; i--)
        {
            above = T.Fma(above, x, T.Of(coefficients[i]));
            below = T.Fma(below, x, T.Of(coefficients[8 + i]));
        }
        return above / below;
    }

    private static readonly double[] Middle =
    [
        3.3871328727963666080, 133.14166789178437745, 1971.5909503065514427, 13731.693765509461125,
        45921.953931549871457, 67265.770927008700853, 33430.575583588128105, 2509.0809287301226727,
        1, 42.313330701600911252, 687.18700749205790830, 5394.1960214247511077,
        21213.794301586595867, 39307.895800092710610, 28729.085735721942674, 5226.4952788528545610,
    ];

    private static readonly double[] Tail =
    [
        1.42343711074968357734, 4.63033784615654529590, 5.76949722146069140550, 3.64784832476320460504,
        1.27045825245236838258, 0.241780725177450611770, 0.0227238449892691845833, 7.74545014278341407640e-4,
        1, 2.05319162663775882187, 1.67638483018380384940, 0.689767334985100004550,
        0.148103976427480074590, 0.0151986665636164571966, 5.47593808499534494600e-4, 1.05075007164441684324e-9,
    ];
}
