using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Consort.Engine.Pitch.Builds.Lanes;

/// <summary>Four builds in one 256-bit register; where the processor has none, what .NET does instead.</summary>
internal readonly struct Four(Vector256<double> value) : ILanes<Four>
{
    // 1.5·2^52: adding it leaves a whole number in the low bits.
    private const double Whole = 6755399441055744;

    private readonly Vector256<double> value = value;

    /// <inheritdoc/>
    public static int Count => 4;

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Of(double value) => new(Vector256.Create(value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four From(ReadOnlySpan<double> values) => new(Vector256.Create(values));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Store(Four value, Span<double> into) => value.value.StoreUnsafe(ref MemoryMarshal.GetReference(into[..4]));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four operator +(Four a, Four b) => new(a.value + b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four operator -(Four a, Four b) => new(a.value - b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four operator *(Four a, Four b) => new(a.value * b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four operator /(Four a, Four b) => new(a.value / b.value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four operator -(Four a) => new(-a.value);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Fma(Four a, Four b, Four c) => new(Vector256.FusedMultiplyAdd(a.value, b.value, c.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four FmaMinus(Four a, Four b, Four c) => new(Vector256.FusedMultiplyAdd(-a.value, b.value, c.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Abs(Four a) => new(Vector256.Abs(a.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Sqrt(Four a) => new(Vector256.Sqrt(a.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Min(Four a, Four b) => new(Vector256.Min(a.value, b.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Max(Four a, Four b) => new(Vector256.Max(a.value, b.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Round(Four a) => new(Vector256.Round(a.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Less(Four a, Four b) => new(Vector256.LessThan(a.value, b.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Choose(Four mask, Four a, Four b) => new(Vector256.ConditionalSelect(mask.value, a.value, b.value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four And(Four a, Four b) => new(a.value & b.value);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool Any(Four mask) => mask.value.ExtractMostSignificantBits() != 0;

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Four Scale(Four a, Four n)
    {
        Vector256<long> whole = (n.value + Vector256.Create(Whole + 1023)).AsInt64();
        return new(a.value * Vector256.ShiftLeft(whole, 52).AsDouble());
    }

    /// <inheritdoc/>
    public static Four Split(Four a, out Four power)
    {
        Vector256<long> bits = a.value.AsInt64();
        Vector256<long> biased = Vector256.ShiftRightLogical(bits, 52) | Vector256.Create(Whole).AsInt64();
        power = new(biased.AsDouble() - Vector256.Create(Whole + 1023));
        return new(((bits & Vector256.Create(0xFFFFFFFFFFFFFL)) | Vector256.Create(0x3FF0000000000000L)).AsDouble());
    }
}
