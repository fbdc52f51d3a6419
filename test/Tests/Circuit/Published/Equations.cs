using System.Text;
using Consort.Engine.Circuit.Motion;

namespace Consort.Tests.Circuit.Published;

/// <summary>Ordinary differential equations as circuits: each unknown is a net with a capacitor to 0 V that starts at its
/// first value, and a law that feeds it; with one farad the net's voltage is the unknown.</summary>
internal sealed class Equations
{
    private readonly StringBuilder text = new("circuit:\n");
    private readonly List<string> nets = [];

    /// <summary>Adds farads·dy/dt = formula, y(0) = start.</summary>
    public Equations Add(string net, double start, string formula, double farads = 1)
    {
        nets.Add(net);
        text.Append($"  C {net}: {{capacitor: {farads:R} F, starts at: {start:R} V, from: {net}, to: 0 V}}\n");
        text.Append($"  G {net}: {{law: \"{formula}\", from: 0 V, to: {net}}}\n");
        return this;
    }

    public Bench Bench() => new(text.ToString());

    /// <summary>The unknowns at a time.</summary>
    public double[] After(double time, Accuracy accuracy, Tableau? tableau = null)
    {
        Bench bench = Bench();
        double[] x = bench.After(time, accuracy, tableau);
        return [.. nets.Select(net => x[bench.Circuit.Net(net)])];
    }
}
