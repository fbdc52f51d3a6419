using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>The charge law of one oscillator of a design over its keyboard, as its transients were read.</summary>
/// <param name="Kelvins">Temperatures, the bench's first, K.</param>
/// <param name="Volts">Keyboard voltages, V.</param>
/// <param name="Currents">Timing current at rest by temperature and note, A.</param>
/// <param name="Hertz">Frequency by temperature and note, Hz.</param>
internal sealed record CoreReadings(double[] Kelvins, double[] Volts, double[][] Currents, double[][] Hertz)
{
    /// <summary>U₀ at a temperature and note, cents.</summary>
    public double Charge(int k, int n) => Cents.PerNeper * Math.Log(Currents[k][n] / Hertz[k][n]);

    /// <summary>U₀ near a note, at another timing current, cents.</summary>
    public double ChargeAt(int k, int n, double current)
    {
        double x = current / Currents[k][n] - 1;
        (double first, double second) = Tilt(k, n);
        return Charge(k, n) + x * (first + 0.5 * second * x);
    }

    /// <summary>First and second derivative of U₀ by the relative current at a note, cents: of the parabola over the current
    /// through it and its neighbours.</summary>
    public (double First, double Second) Tilt(int k, int n)
    {
        if (Volts.Length < 3)
            return (0, 0);
        int middle = Math.Clamp(n, 1, Volts.Length - 2);
        (double a, double b, double c) = (Currents[k][middle - 1], Currents[k][middle], Currents[k][middle + 1]);
        double low = (Charge(k, middle) - Charge(k, middle - 1)) / (b - a);
        double high = (Charge(k, middle + 1) - Charge(k, middle)) / (c - b);
        double second = 2 * (high - low) / (c - a);
        double own = Currents[k][n];
        return (own * (low + 0.5 * second * (2 * own - a - b)), own * own * second);
    }
}

