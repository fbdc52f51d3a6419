using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Breakdown diodes through the point (test current, value), with the stated slope there. Of that slope 25.7 mV over the
/// test current is the exponential breakdown's, the rest a series resistance; a smaller slope is all exponential. The
/// value follows 1 + tempco·(T − 25 °C); the forward junction is silicon (Eg 1.11 eV, XTI 3). Shot noise of the current
/// and thermal noise of the resistance. Left out: avalanche noise, change of the slope with temperature.
/// </summary>
internal sealed class ZenerBank : PartBank
{
    private const double Gap = 1.11;
    private const double Exponent = 3;
    private const double Potential = 0.75;
    private const double Grading = 0.5;
    private const double DepletionLimit = 0.5;
    private static readonly double Steepness = Constants.ThermalVoltage(Constants.ReferenceTemperature);

    private readonly int[] anode;
    private readonly int[] cathode;
    private readonly TwoPole[] series;
    private readonly Quad[] quads;
    private readonly DiodeLaw[] laws;
    private readonly Depletion[] depletion;
    private readonly double[] conductance;
    private readonly double[] last;

    public ZenerBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        anode = new int[Count];
        series = new TwoPole[Count];
        cathode = [.. parts.Select(part => at.Net(part, "cathode"))];
        for (int i = 0; i < Count; i++)
        {
            int outer = at.Net(parts[i], "anode");
            bool hasSeries = parts[i].Number("dynamic resistance") * parts[i].Number("test current") > Steepness;
            anode[i] = hasSeries ? at.Inner(parts[i], "junction", UnknownKind.Voltage) : outer;
            if (hasSeries)
                series[i] = new(outer, anode[i], at);
        }
        quads = [.. anode.Zip(cathode, at.Quad)];
        laws = new DiodeLaw[Count];
        depletion = new Depletion[Count];
        conductance = new double[Count];
        last = new double[Count];
        Forget();
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double test = Numbers("test current")[i];
            double slope = Numbers("dynamic resistance")[i];
            double steepness = series[i].IsThere ? Steepness : Math.Max(slope * test, 1e-6);
            double resistance = Math.Max(slope - steepness / test, 0);
            double voltage =
                Numbers("value")[i] * (1 + Numbers("tempco")[i] * (kelvin - Constants.ReferenceTemperature));
            double emission = Numbers("emission coefficient")[i];
            double growth = Junction.Growth(kelvin, Constants.ReferenceTemperature, Gap, Exponent, emission);
            laws[i] = DiodeLaw
                .Forward(Numbers("saturation current")[i] * growth, emission * Constants.ThermalVoltage(kelvin))
                .Breaking(series[i].IsThere ? voltage - test * resistance : voltage, test, steepness);
            conductance[i] = Least.Conductance(resistance);
            depletion[i] = Depletion.At(
                Numbers("junction capacitance")[i],
                Potential,
                Grading,
                DepletionLimit,
                kelvin,
                Constants.ReferenceTemperature,
                Gap
            );
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
            if (series[i].IsThere)
                series[i].Add(pass.G, conductance[i]);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] x = pass.X;
        double[] capacitance = Numbers("junction capacitance");
        for (int i = first; i < end; i++)
        {
            int a = anode[i];
            int k = cathode[i];
            double v = x[a] - x[k];
            double at = pass.Limiting ? laws[i].Limit(v, ref last[i], ref pass.Limited) : v;
            double current = laws[i].Current(at, out double g, out _, out _);
            g += pass.Gmin;
            current += pass.Gmin * at + g * (v - at);
            pass.F[a] += current;
            pass.F[k] -= current;
            quads[i].Add(pass.G, g);
            if (capacitance[i] <= 0)
                continue;
            double charge = depletion[i].Charge(at, out double c);
            charge += c * (v - at);
            pass.Q[a] += charge;
            pass.Q[k] -= charge;
            quads[i].Add(pass.C, c);
        }
    }

    public override void Forget() => Array.Fill(last, double.NaN);

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        string name = Parts[part].Name;
        double current = laws[part].Current(pass.X[anode[part]] - pass.X[cathode[part]], out _, out _, out _);
        into.Add($"{name} shot", anode[part], cathode[part], 2 * Constants.Charge * Math.Abs(current));
        series[part].AddNoise(into, $"{name} thermal", pass.Temperature, conductance[part]);
    }
}
