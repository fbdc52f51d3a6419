namespace Consort.Engine.Quantities;

/// <summary>Units in which values are kept inside.</summary>
public static class SiUnits
{
    /// <summary>The SI unit in which a dimension's values are kept.</summary>
    public static string Of(Dimension dimension) =>
        dimension switch
        {
            Dimension.Resistance => "Ω",
            Dimension.Conductance => "S",
            Dimension.Capacitance => "F",
            Dimension.Inductance => "H",
            Dimension.Voltage => "V",
            Dimension.Current => "A",
            Dimension.Power => "W",
            Dimension.Frequency => "Hz",
            Dimension.Time => "s",
            Dimension.Temperature or Dimension.TemperatureStep => "K",
            Dimension.PerKelvin => "1/K",
            Dimension.VoltagePerKelvin => "V/K",
            Dimension.Slew => "V/s",
            Dimension.VoltageNoise => "V/√Hz",
            Dimension.CurrentNoise => "A/√Hz",
            Dimension.Length or Dimension.PanelWidth or Dimension.PanelHeight => "m",
            Dimension.VoltagePerOctave => "V/oct",
            Dimension.Interval => "cents",
            Dimension.CurrentPerSquareVolt => "A/V²",
            Dimension.RootVoltage => "√V",
            Dimension.PerVolt => "1/V",
            Dimension.Charge => "C",
            Dimension.BandGap => "eV",
            Dimension.ResistancePerLength => "Ω/m",
            Dimension.CapacitancePerLength => "F/m",
            Dimension.InductancePerLength => "H/m",
            _ => "",
        };
}
