using System.Numerics;

namespace Consort.Engine.Pitch.Builds.Lanes;

/// <summary>Numbers of several builds side by side, one a lane. A mask is a number whose lanes are all ones or all zeros.
/// Every operation rounds each lane as a double by itself would be, so that a build has the same bits in any lane, in any
/// company, four at a time or alone.</summary>
internal interface ILanes<T>
    : IAdditionOperators<T, T, T>,
        ISubtractionOperators<T, T, T>,
        IMultiplyOperators<T, T, T>,
        IDivisionOperators<T, T, T>,
        IUnaryNegationOperators<T, T>
    where T : struct, ILanes<T>
{
    /// <summary>How many lanes.</summary>
    static abstract int Count { get; }

    /// <summary>One number in every lane.</summary>
    static abstract T Of(double value);

    /// <summary>The first numbers of a span, one a lane.</summary>
    static abstract T From(ReadOnlySpan<double> values);

    /// <summary>Writes the lanes to a span.</summary>
    static abstract void Store(T value, Span<double> into);

    /// <summary>a·b + c, rounded once.</summary>
    static abstract T Fma(T a, T b, T c);

    /// <summary>c − a·b, rounded once.</summary>
    static abstract T FmaMinus(T a, T b, T c);

    /// <summary>Absolute value.</summary>
    static abstract T Abs(T a);

    /// <summary>Square root.</summary>
    static abstract T Sqrt(T a);

    /// <summary>The lesser one.</summary>
    static abstract T Min(T a, T b);

    /// <summary>The greater one.</summary>
    static abstract T Max(T a, T b);

    /// <summary>The nearest whole number, halves to even.</summary>
    static abstract T Round(T a);

    /// <summary>Mask of the lanes where a is less than b; none where either is no number.</summary>
    static abstract T Less(T a, T b);

    /// <summary>a where the mask is set, else b.</summary>
    static abstract T Choose(T mask, T a, T b);

    /// <summary>Lanes set in both masks.</summary>
    static abstract T And(T a, T b);

    /// <summary>True when a mask has any lane set.</summary>
    static abstract bool Any(T mask);

    /// <summary>a·2^n for whole n from −1022 to 1023 in every lane.</summary>
    static abstract T Scale(T a, T n);

    /// <summary>Splits positive normal numbers into a share from 1 to 2 (exclusive) and the power of two.</summary>
    static abstract T Split(T a, out T power);
}
