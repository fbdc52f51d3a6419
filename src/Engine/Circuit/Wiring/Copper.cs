namespace Consort.Engine.Circuit.Wiring;

/// <summary>Copper wire: diameter by American wire gauge (ASTM B258), resistivity and its temperature coefficient for
/// annealed copper (IEC 60028).</summary>
public static class Copper
{
    /// <summary>Resistivity at 20 °C, Ω·m (IEC 60028).</summary>
    public const double Resistivity = 1.7241e-8;

    /// <summary>Relative change per kelvin, referred to 20 °C (IEC 60028).</summary>
    public const double PerKelvin = 0.00393;

    /// <summary>20 °C, K.</summary>
    public const double ReferenceTemperature = 293.15;

    /// <summary>Diameter of a solid wire, m.</summary>
    public static double Diameter(double gauge) => 0.127e-3 * Math.Pow(92, (36 - gauge) / 39);

    /// <summary>Resistance at 20 °C, Ω/m. Stranded wire is taken as solid wire of the same gauge.</summary>
    public static double OhmsPerMetre(double gauge)
    {
        double diameter = Diameter(gauge);
        return Resistivity / (Math.PI / 4 * diameter * diameter);
    }

    /// <summary>A wire in series with contacts as one resistor stated at 25 °C, as parts are. The contacts keep their
    /// resistance; the copper's grows in a straight line, so the sum does too and nothing is approximated.</summary>
    /// <param name="wireAt20">The wire's resistance at 20 °C, ohm.</param>
    /// <param name="contacts">Of the contacts, ohm.</param>
    internal static (double Ohms, double Tempco) InSeries(double wireAt20, double contacts)
    {
        double atReference =
            contacts + wireAt20 * (1 + PerKelvin * (Constants.ReferenceTemperature - ReferenceTemperature));
        return (atReference, atReference > 0 ? wireAt20 * PerKelvin / atReference : 0);
    }
}
