using System.Runtime.CompilerServices;

namespace Consort.Engine.Pitch.Builds.Lanes;

/// <summary>One build by itself.</summary>
internal readonly struct One(double value) : ILanes<One>
{
    private static readonly double Set = BitConverter.Int64BitsToDouble(-1);

    private readonly double value = value;

    /// <summary>The number.</summary>
    public double Value => value;

    /// <inheritdoc/>
    public static int Count => 1;

    /// <inheritdoc/>
    public static One Of(double value) => new(value);

    /// <inheritdoc/>
    public static One From(ReadOnlySpan<double> values) => new(values[0]);

    /// <inheritdoc/>
    public static void Store(One value, Span<double> into) => into[0] = value.value;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One operator +(One a, One b) => new(a.value + b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One operator -(One a, One b) => new(a.value - b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One operator *(One a, One b) => new(a.value * b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One operator /(One a, One b) => new(a.value / b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One operator -(One a) => new(-a.value);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One Fma(One a, One b, One c) => new(Math.FusedMultiplyAdd(a.value, b.value, c.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One FmaMinus(One a, One b, One c) => new(Math.FusedMultiplyAdd(-a.value, b.value, c.value));

    /// <inheritdoc/>
    public static One Abs(One a) => new(Math.Abs(a.value));

    /// <inheritdoc/>
    public static One Sqrt(One a) => new(Math.Sqrt(a.value));

    /// <inheritdoc/>
    public static One Min(One a, One b) => new(Math.Min(a.value, b.value));

    /// <inheritdoc/>
    public static One Max(One a, One b) => new(Math.Max(a.value, b.value));

    /// <inheritdoc/>
    public static One Round(One a) => new(Math.Round(a.value));

    /// <inheritdoc/>
    public static One Less(One a, One b) => new(a.value < b.value ? Set : 0);

    /// <inheritdoc/>
    public static One Choose(One mask, One a, One b) => BitConverter.DoubleToInt64Bits(mask.value) != 0 ? a : b;

    /// <inheritdoc/>
    public static One And(One a, One b) =>
        new(BitConverter.Int64BitsToDouble(BitConverter.DoubleToInt64Bits(a.value) & BitConverter.DoubleToInt64Bits(b.value)));

    /// <inheritdoc/>
    public static bool Any(One mask) => BitConverter.DoubleToInt64Bits(mask.value) != 0;

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static One Scale(One a, One n) =>
        new(a.value * BitConverter.Int64BitsToDouble(((long)n.value + 1023) << 52));

    /// <inheritdoc/>
    public static One Split(One a, out One power)
    {
        long bits = BitConverter.DoubleToInt64Bits(a.value);
        power = new((bits >> 52) - 1023);
        return new(BitConverter.Int64BitsToDouble((bits & 0xFFFFFFFFFFFFF) | 0x3FF0000000000000));
    }
}
