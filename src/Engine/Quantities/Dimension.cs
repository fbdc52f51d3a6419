namespace Consort.Engine.Quantities;

/// <summary>What a number measures. Every quantity of the input has one; SI base units inside the program.</summary>
public enum Dimension
{
    /// <summary>A plain number or a share: 0.5, 50 %, 25 ppm.</summary>
    Ratio,
    /// <summary>Ohm.</summary>
    Resistance,
    /// <summary>Siemens.</summary>
    Conductance,
    /// <summary>Farad.</summary>
    Capacitance,
    /// <summary>Henry.</summary>
    Inductance,
    /// <summary>Volt.</summary>
    Voltage,
    /// <summary>Ampere.</summary>
    Current,
    /// <summary>Watt.</summary>
    Power,
    /// <summary>Hertz.</summary>
    Frequency,
    /// <summary>Second.</summary>
    Time,
    /// <summary>Absolute temperature: written in °C, kept in kelvin.</summary>
    Temperature,
    /// <summary>Temperature difference, kelvin.</summary>
    TemperatureStep,
    /// <summary>Relative change per kelvin: 25 ppm/K.</summary>
    PerKelvin,
    /// <summary>Volt per kelvin: 10 µV/K.</summary>
    VoltagePerKelvin,
    /// <summary>Volt per second: 13 V/µs.</summary>
    Slew,
    /// <summary>Volt per root hertz: 18 nV/√Hz (also written nV/rtHz).</summary>
    VoltageNoise,
    /// <summary>Ampere per root hertz: 0.01 pA/√Hz.</summary>
    CurrentNoise,
    /// <summary>Metre: written in m, cm, mm.</summary>
    Length,
    /// <summary>Panel width in horizontal pitches of 5.08 mm (IEC 60297-3-101); kept in metres.</summary>
    PanelWidth,
    /// <summary>Panel height in rack units of 44.45 mm; kept in metres.</summary>
    PanelHeight,
    /// <summary>Volt per octave; kept in volt.</summary>
    VoltagePerOctave,
    /// <summary>Pitch interval: cents, semitones or octaves; kept in cents.</summary>
    Interval,
    /// <summary>Ampere per volt squared, a field-effect transistor's transconductance parameter.</summary>
    CurrentPerSquareVolt,
    /// <summary>Root volt, the body-effect coefficient.</summary>
    RootVoltage,
    /// <summary>Money in the folder's own currency.</summary>
    Money,
    /// <summary>Ohm per metre.</summary>
    ResistancePerLength,
    /// <summary>Farad per metre.</summary>
    CapacitancePerLength,
    /// <summary>Henry per metre.</summary>
    InductancePerLength,
    /// <summary>Per volt: channel-length modulation, 0.02 /V.</summary>
    PerVolt,
    /// <summary>Coulomb.</summary>
    Charge,
    /// <summary>Electron-volt: a band gap; kept in electron-volt.</summary>
    BandGap,
}
