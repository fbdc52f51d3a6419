namespace Consort.Engine.Circuit;

/// <summary>Physical constants: CODATA 2018 and 2022 (exact by the SI's definition).</summary>
public static class Constants
{
    /// <summary>k, J/K.</summary>
    public const double Boltzmann = 1.380649e-23;

    /// <summary>q, C.</summary>
    public const double Charge = 1.602176634e-19;

    /// <summary>25 °C in kelvin: the temperature at which parts have their stated values.</summary>
    public const double ReferenceTemperature = 298.15;

    /// <summary>kT/q, V.</summary>
    public static double ThermalVoltage(double kelvin) => Boltzmann * kelvin / Charge;
}
