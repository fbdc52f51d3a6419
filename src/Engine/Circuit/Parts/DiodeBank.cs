using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Junction and Schottky diodes: <see cref="DiodeLaw"/> behind a series resistance, depletion and diffusion charge
/// (TT·i). Is follows (T/T0)^(XTI/n)·exp(Eg/(n·VT)…); Massobrio and Antognetti ch. 1. Shot noise 2qI, thermal noise of the
/// series resistance. Left out: high-level injection, leakage that is not ideal, change of the breakdown with
/// temperature, self-heating.
/// </summary>
internal sealed class DiodeBank : PartBank, IJunctions
{
    private const double DepletionLimit = 0.5;

    private readonly int[] outer;
    private readonly int[] anode;
    private readonly int[] cathode;
    private readonly Quad[] series;
    private readonly Quad[] quads;
    private readonly DiodeLaw[] laws;
    private readonly Depletion[] depletion;
    private readonly bool[] stores;
    private readonly double[] conductance;
    private readonly double[] last;

    public DiodeBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        outer = [.. parts.Select(part => at.Net(part, "anode"))];
        cathode = [.. parts.Select(part => at.Net(part, "cathode"))];
        anode = [.. parts.Select((part, i) => InnerAnode(part, i, at))];
        series = [.. outer.Zip(anode, (a, b) => a == b ? default : at.Quad(a, b))];
        quads = [.. anode.Zip(cathode, at.Quad)];
        laws = new DiodeLaw[Count];
        depletion = new Depletion[Count];
        stores = new bool[Count];
        conductance = new double[Count];
        last = new double[Count];
        Forget();
    }

    /// <inheritdoc/>
    public bool HasBare => stores.Any(charge => !charge);

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double nominal = Numbers("nominal temperature")[i];
            double gap = Numbers("energy gap")[i];
            double emission = Numbers("emission coefficient")[i];
            double slope = emission * Constants.ThermalVoltage(kelvin);
            double growth = Junction.Growth(kelvin, nominal, gap, Numbers("saturation exponent")[i], emission);
            laws[i] = DiodeLaw
                .Forward(Numbers("saturation current")[i] * growth, slope)
                .Breaking(Numbers("breakdown voltage")[i], Numbers("breakdown current")[i], slope);
            double capacitance = Numbers("junction capacitance")[i];
            depletion[i] = Depletion.At(
                capacitance,
                Numbers("junction potential")[i],
                Numbers("grading")[i],
                DepletionLimit,
                kelvin,
                nominal,
                gap
            );
            stores[i] = capacitance > 0 || Numbers("transit time")[i] > 0;
            conductance[i] = Least.Conductance(Numbers("series resistance")[i]);
        }
    }

    public override void StampConstant(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
            if (anode[i] != outer[i])
                series[i].Add(pass.G, conductance[i]);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] x = pass.X;
        double[] f = pass.F;
        double[] q = pass.Q;
        double[] transit = Numbers("transit time");
        for (int i = first; i < end; i++)
        {
            int a = anode[i];
            int k = cathode[i];
            double v = x[a] - x[k];
            double at = pass.Limiting ? laws[i].Limit(v, ref last[i], ref pass.Limited) : v;
            double current = laws[i].Current(at, out double g, out double forward, out double gForward);
            g += pass.Gmin;
            current += pass.Gmin * at + g * (v - at);
            f[a] += current;
            f[k] -= current;
            quads[i].Add(pass.G, g);
            if (!stores[i])
                continue;
            double charge = depletion[i].Charge(at, out double c) + transit[i] * forward;
            c += transit[i] * gForward;
            charge += c * (v - at);
            q[a] += charge;
            q[k] -= charge;
            quads[i].Add(pass.C, c);
        }
    }

    public override void Forget() => Array.Fill(last, double.NaN);

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        string name = Parts[part].Name;
        double current = laws[part].Current(pass.X[anode[part]] - pass.X[cathode[part]], out _, out _, out _);
        into.Add($"{name} shot", anode[part], cathode[part], 2 * Constants.Charge * Math.Abs(current));
        if (anode[part] != outer[part])
            into.Add(
                $"{name} thermal",
                outer[part],
                anode[part],
                4 * Constants.Boltzmann * pass.Temperature * conductance[part]
            );
    }

    private int InnerAnode(Part part, int i, Assembly at) =>
        part.Number("series resistance") > 0 ? at.Inner(part, "junction", UnknownKind.Voltage) : outer[i];
}
