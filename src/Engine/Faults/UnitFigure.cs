namespace Consort.Engine.Faults;

/// <summary>What is read.</summary>
public enum FigureKind
{
    /// <summary>Mean voltage against the module's 0 V: a multimeter on direct voltage, V.</summary>
    Mean,

    /// <summary>Lowest voltage of the wave: an oscilloscope coupled directly, V.</summary>
    Lowest,

    /// <summary>Highest voltage of the wave, V.</summary>
    Highest,

    /// <summary>From lowest to highest: an oscilloscope, however it is coupled, V.</summary>
    Swing,

    /// <summary>Mean current that the unit itself takes from a rail: a meter in its power lead, A.</summary>
    Current,

    /// <summary>Frequency at a control voltage, Hz; 0 when nothing sounds.</summary>
    Pitch,
}

/// <summary>One figure of a unit.</summary>
/// <param name="Kind">What is read.</param>
/// <param name="Place">Net, rail, or control voltage.</param>
public readonly record struct UnitFigure(FigureKind Kind, string Place)
{
    /// <summary>What stands for no pitch at all, Hz.</summary>
    internal const double Silent = 0.01;

    /// <summary>The same in octaves above 1 Hz.</summary>
    internal static readonly double Lowest = Math.Log2(Silent);

    /// <summary>Its word in tables.</summary>
    public string Word => Kind == FigureKind.Pitch ? "frequency" : Kind.ToString().ToLowerInvariant();

    /// <summary>Its unit in tables.</summary>
    public string Unit => Kind switch { FigureKind.Current => "A", FigureKind.Pitch => "Hz", _ => "V" };

    /// <summary>A value in that unit: frequencies are reckoned in octaves above 1 Hz; silence stands far below.</summary>
    public double Plain(double value) => Kind != FigureKind.Pitch ? value : value <= Math.Log2(Silent) + 1e-9 ? 0 : Math.Pow(2, value);
}
