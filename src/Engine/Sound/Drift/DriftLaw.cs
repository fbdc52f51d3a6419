using System.Collections.Immutable;

namespace Consort.Engine.Sound.Drift;

/// <summary>How far an oscillator's pitch moves with the temperature of its parts, read off its circuit at three of them: the
/// parabola through those, and straight lines between control voltages.</summary>
/// <param name="Kelvins">Rising.</param>
/// <param name="Curves">By control voltage, rising: cents at each of them against the temperature at which its law was read.</param>
public sealed record DriftLaw(ImmutableArray<double> Kelvins, ImmutableArray<(double Volts, ImmutableArray<double> Cents)> Curves)
{
    /// <summary>Cents at a temperature and a control voltage.</summary>
    public double Cents(double kelvin, double volts)
    {
        double within = Math.Clamp(volts, Curves[0].Volts, Curves[^1].Volts);
        int i = 0;
        while (i + 2 < Curves.Length && Curves[i + 1].Volts < within)
            i++;
        double first = At(Curves[i].Cents, kelvin);
        if (Curves.Length == 1)
            return first;
        double share = (within - Curves[i].Volts) / (Curves[i + 1].Volts - Curves[i].Volts);
        return first + (At(Curves[i + 1].Cents, kelvin) - first) * share;
    }

    // Lagrange's form.
    private double At(ImmutableArray<double> cents, double kelvin)
    {
        double sum = 0;
        for (int i = 0; i < Kelvins.Length; i++)
        {
            double weight = 1;
            for (int j = 0; j < Kelvins.Length; j++)
                if (j != i)
                    weight *= (kelvin - Kelvins[j]) / (Kelvins[i] - Kelvins[j]);
            sum += weight * cents[i];
        }
        return sum;
    }
}
