using System.Globalization;

namespace Consort.Engine.Quantities;

/// <summary>Pitch interval; 1200 to the octave, positive is sharp.</summary>
public readonly record struct Cents(double Value) : IComparable<Cents>
{
    /// <summary>Cents of an e-fold: 1200/ln 2.</summary>
    public const double PerNeper = 1200 / 0.693147180559945309417;

    /// <summary>The interval from one frequency up to another.</summary>
    public static Cents Between(Hertz from, Hertz to) => new(1200 * Math.Log2(to / from));

    /// <summary>Sum of two intervals.</summary>
    public static Cents operator +(Cents a, Cents b) => new(a.Value + b.Value);

    /// <summary>Difference of two intervals.</summary>
    public static Cents operator -(Cents a, Cents b) => new(a.Value - b.Value);

    /// <summary>Less.</summary>
    public static bool operator <(Cents a, Cents b) => a.Value < b.Value;

    /// <summary>More.</summary>
    public static bool operator >(Cents a, Cents b) => a.Value > b.Value;

    /// <summary>Less or the same.</summary>
    public static bool operator <=(Cents a, Cents b) => a.Value <= b.Value;

    /// <summary>More or the same.</summary>
    public static bool operator >=(Cents a, Cents b) => a.Value >= b.Value;

    /// <summary>Without its sign.</summary>
    public Cents Size => new(Math.Abs(Value));

    /// <inheritdoc/>
    public int CompareTo(Cents other) => Value.CompareTo(other.Value);

    /// <summary>With its sign, to a tenth: <c>-3.2 cents</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Value:+0.0;-0.0;0.0} cents");
}

/// <summary>Frequency, Hz.</summary>
public readonly record struct Hertz(double Value)
{
    /// <summary>Ratio of two frequencies.</summary>
    public static double operator /(Hertz a, Hertz b) => a.Value / b.Value;

    /// <summary>This frequency moved by an interval.</summary>
    public Hertz Moved(Cents by) => new(Value * Math.Pow(2, by.Value / 1200));

    /// <inheritdoc/>
    public override string ToString() => QuantityText.Write(Value, Dimension.Frequency, 6);
}

/// <summary>Voltage, V.</summary>
public readonly record struct Volts(double Value)
{
    /// <summary>Sum.</summary>
    public static Volts operator +(Volts a, Volts b) => new(a.Value + b.Value);

    /// <summary>Difference.</summary>
    public static Volts operator -(Volts a, Volts b) => new(a.Value - b.Value);

    /// <inheritdoc/>
    public override string ToString() => QuantityText.Write(Value, Dimension.Voltage);
}

/// <summary>Time, s.</summary>
public readonly record struct Seconds(double Value)
{
    /// <summary>The frequency of this period.</summary>
    public Hertz Frequency => new(1 / Value);

    /// <inheritdoc/>
    public override string ToString() => QuantityText.Write(Value, Dimension.Time);
}
