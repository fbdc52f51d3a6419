using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Circuit;

/// <summary>The current law at every net of a circuit at rest: no outside source is needed for it.</summary>
internal static class Kirchhoff
{
    // A sum of currents cannot be more exact than the products of conductance and voltage that it is made of.
    private const double Rounding = 1e-13;

    // What Newton's last move may still be, times a conductance: junctions amplify it by 1/VT at most.
    private const double LeastCurrent = 1e-14;

    /// <summary>The net where the parts' currents miss zero by the most, in words; null when all are at rounding.</summary>
    public static string? Breach(Compiled circuit, double[] x)
    {
        double[] sum = new double[circuit.Length];
        double[] size = new double[circuit.Length];
        foreach (Part part in circuit.Design.Parts)
            foreach ((string terminal, double amperes) in circuit.Currents(part.Name, x, 0, Regime.Rest))
                sum[circuit.Net(part.NetAt(terminal)!)] += amperes;
        x.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(0, Regime.Rest);
        for (int slot = 1; slot < circuit.Pattern.Slots; slot++)
            size[circuit.Pattern.Rows[slot]] += Math.Abs(circuit.Pass.G[slot] * x[circuit.Pattern.Columns[slot]]);
        (double Share, string? What) worst = (1, null);
        foreach ((string net, int row) in circuit.Nets)
        {
            double share = Math.Abs(sum[row]) / (Rounding * size[row] + LeastCurrent);
            if (row > 0 && !(share <= worst.Share))
                worst = (share, $"{sum[row]:E2} A too much at '{net}', whose terms add up to {size[row]:E2} A");
        }
        return worst.What;
    }
}
