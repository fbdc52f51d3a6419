using System.Globalization;
using System.Text;

namespace Consort.Tests.Circuit.Properties;

/// <summary>
/// Draws circuits as text, well formed by construction: every net hangs on a tree of resistors that ends at 0 V or a
/// supply, so that each has a path for direct current; inductors have resistance. What else is joined is left to chance:
/// op amps may stand with positive feedback, junctions across supplies behind no more than a tree's resistor.
/// </summary>
internal sealed class RandomCircuit
{
    private readonly Random random;
    private readonly StringBuilder text = new("circuit:\n");
    private readonly List<string> nets = ["0 V", "+12 V", "-12 V"];
    private readonly string[] soft;
    private int count;

    private RandomCircuit(int seed)
    {
        random = new(seed);
        soft = [.. Enumerable.Range(1, 3 + random.Next(12)).Select(i => $"n{i}")];
    }

    /// <summary>The circuit of a seed, as a circuit file.</summary>
    public static string Text(int seed)
    {
        RandomCircuit circuit = new(seed);
        circuit.Add("voltage source: 12 V, plus: +12 V, minus: 0 V");
        circuit.Add("voltage source: -12 V, plus: -12 V, minus: 0 V");
        circuit.Add("resistor: 1k, from: +12 V, to: -12 V");
        circuit.GrowTree();
        int more = 4 + circuit.random.Next(25);
        for (int i = 0; i < more; i++)
            circuit.AddSomething();
        return circuit.text.ToString();
    }

    private void GrowTree()
    {
        foreach (string net in soft)
        {
            Add($"resistor: {Log(10, 1e6)}, from: {net}, to: {nets[random.Next(nets.Count)]}");
            nets.Add(net);
        }
        foreach (string net in soft) // nothing hangs by one end
            Add($"resistor: {Log(100, 1e7)}, from: {net}, to: {Other(net)}");
    }

    private void AddSomething()
    {
        string a = soft[random.Next(soft.Length)];
        string b = Other(a);
        string c = Other(a);
        switch (random.Next(9))
        {
            case 0:
                Add($"resistor: {Log(10, 1e6)}, from: {a}, to: {b}");
                break;
            case 1:
                string starts = random.Next(4) == 0 ? $", starts at: {Number(random.NextDouble() * 4 - 2)} V" : "";
                Add($"capacitor: {Log(1e-12, 1e-5)}, series resistance: {Log(0.1, 100)} ohm{starts}, from: {a}, to: {b}");
                break;
            case 2:
                Add($"inductor: {Log(1e-6, 1)} H, series resistance: {Log(0.1, 100)} ohm, from: {a}, to: {b}");
                break;
            case 3 or 4:
                Add($"diode: ideal, saturation current: {Log(1e-16, 1e-7)} A, emission coefficient: {Number(1 + random.NextDouble())}, "
                    + $"series resistance: {Log(0.01, 10)} ohm, junction capacitance: 4 pF, anode: {a}, cathode: {b}");
                break;
            case 5:
                AddTransistor("npn", a, b, c);
                break;
            case 6:
                AddTransistor("pnp", a, b, c);
                break;
            case 7:
                Add($"op amp: ideal, gain: {Log(1e4, 1e6)}, offset: {Number((random.NextDouble() - 0.5) * 6e-3)} V, "
                    + $"bias current: {Log(1e-12, 1e-7)} A, output resistance: 75 ohm, headroom high: 1.5 V, headroom low: 1.5 V, "
                    + $"plus: {Other(b)}, minus: {c}, out: {a}, supply: [+12 V, -12 V]");
                break;
            default:
                Add($"current source: {Log(1e-9, 1e-3)} A, from: {b}, to: {a}");
                break;
        }
    }

    private void AddTransistor(string kind, string a, string b, string c) =>
        Add($"{kind}: ideal, saturation current: {Log(1e-16, 1e-13)} A, forward gain: {Log(20, 800)}, "
            + $"forward Early voltage: {Log(15, 200)} V, base resistance: {Log(1, 100)} ohm, "
            + $"base-emitter capacitance: 8 pF, forward transit time: 0.4 ns, collector: {a}, base: {b}, emitter: {c}");

    private void Add(string part) => text.Append(CultureInfo.InvariantCulture, $"  X{++count}: {{{part}}}\n");

    private string Other(string net)
    {
        while (true)
            if (nets[random.Next(nets.Count)] is var other && other != net)
                return other;
    }

    /// <summary>A number whose logarithm is spread evenly.</summary>
    private string Log(double low, double high) => Number(low * Math.Pow(high / low, random.NextDouble()));

    private static string Number(double value) => value.ToString("G4", CultureInfo.InvariantCulture);
}
