namespace Consort.Engine.Quantities;

/// <summary>How people speak of a dimension.</summary>
/// <param name="Name">With its article: <c>a resistance</c>.</param>
/// <param name="Example">How the trade writes one.</param>
/// <param name="Unit">The unit to add to a bare number; empty when none is needed.</param>
public sealed record DimensionWords(string Name, string Example, string Unit)
{
    /// <summary>The words of a dimension.</summary>
    public static DimensionWords Of(Dimension dimension) =>
        dimension switch
        {
            Dimension.Ratio => new("a plain number or share", "0.5, 50% or 25 ppm", ""),
            Dimension.Resistance => new("a resistance", "4.7k or 4k7", "Ω"),
            Dimension.Conductance => new("a conductance", "2 mS", "S"),
            Dimension.Capacitance => new("a capacitance", "100n or 100 nF", "F"),
            Dimension.Inductance => new("an inductance", "10m or 10 mH", "H"),
            Dimension.Voltage => new("a voltage", "12 V", "V"),
            Dimension.Current => new("a current", "35 mA", "A"),
            Dimension.Power => new("a power", "250 mW", "W"),
            Dimension.Frequency => new("a frequency", "440 Hz", "Hz"),
            Dimension.Time => new("a time", "200 ns", "s"),
            Dimension.Temperature => new("a temperature", "25 °C", "°C"),
            Dimension.TemperatureStep => new("a temperature difference", "10 K", "K"),
            Dimension.PerKelvin => new("a change per kelvin", "25 ppm/K", "ppm/K"),
            Dimension.VoltagePerKelvin => new("a voltage per kelvin", "10 µV/K", "µV/K"),
            Dimension.Slew => new("a slew rate", "13 V/µs", "V/µs"),
            Dimension.VoltageNoise => new("a noise voltage density", "18 nV/√Hz", "nV/√Hz"),
            Dimension.CurrentNoise => new("a noise current density", "10 fA/√Hz", "fA/√Hz"),
            Dimension.Length => new("a length", "60 cm", "mm"),
            Dimension.PanelWidth => new("a panel width", "20 HP or 100 mm", "HP"),
            Dimension.PanelHeight => new("a panel height", "3 U or 128.5 mm", "U"),
            Dimension.VoltagePerOctave => new("a pitch law", "1 V/oct", "V/oct"),
            Dimension.Interval => new("an interval", "+5 cents or -12 semitones", "cents"),
            Dimension.CurrentPerSquareVolt => new("a transconductance parameter", "1 mA/V²", "mA/V²"),
            Dimension.RootVoltage => new("a body-effect coefficient", "0.5 √V", "√V"),
            Dimension.Money => new("a price", "0.25", ""),
            Dimension.ResistancePerLength => new("a resistance per length", "0.2 Ω/m", "Ω/m"),
            Dimension.CapacitancePerLength => new("a capacitance per length", "100 pF/m", "pF/m"),
            Dimension.InductancePerLength => new("an inductance per length", "0.33 µH/m", "µH/m"),
            Dimension.PerVolt => new("a change per volt", "0.02 /V", ""),
            Dimension.Charge => new("a charge", "5 pC", "pC"),
            Dimension.BandGap => new("a band gap", "1.11 eV", ""),
            _ => throw new ArgumentOutOfRangeException(nameof(dimension), dimension, null),
        };
}
