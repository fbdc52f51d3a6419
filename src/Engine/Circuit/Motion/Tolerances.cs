namespace Consort.Engine.Circuit.Motion;

/// <summary>How large an error of each unknown may be in one step, and whose is looked at: that of those which carry charge
/// or decide a moment.</summary>
internal sealed class Tolerances
{
    private readonly double[] absolute;
    private readonly double[] relative;
    private readonly int[] counted;

    public Tolerances(Circuit circuit, Accuracy accuracy, Charges charges, IEnumerable<int> reads)
    {
        Dictionary<int, double> decisive = Decisive.Unknowns(circuit, reads);
        counted = [.. charges.Unknowns.Concat(decisive.Keys).Where(unknown => unknown > 0).Distinct().Order()];
        absolute = new double[circuit.Length];
        relative = new double[circuit.Length];
        for (int i = 1; i < circuit.Length; i++)
        {
            double scale = circuit.Unknowns[i].Kind == UnknownKind.Voltage ? accuracy.VoltageScale : accuracy.CurrentScale;
            relative[i] = accuracy.Relative * (decisive.TryGetValue(i, out double share) ? share * accuracy.Timing : 1);
            absolute[i] = relative[i] * scale;
        }
    }

    /// <summary>1/tolerance of each unknown at a state.</summary>
    public void Weigh(double[] x, double[] weights)
    {
        for (int i = 1; i < weights.Length; i++)
            weights[i] = 1 / (absolute[i] + relative[i] * Math.Abs(x[i]));
    }

    /// <summary>The largest error in units of its tolerance at a state, and whose it is; NaN when one is no number.</summary>
    public double Largest(double[] error, double[] x, out int unknown)
    {
        double worst = 0;
        unknown = 0;
        foreach (int i in counted)
        {
            double size = Math.Abs(error[i]) / (absolute[i] + relative[i] * Math.Abs(x[i]));
            if (!(size <= worst))
                (worst, unknown) = (size, i);
        }
        return worst;
    }
}
