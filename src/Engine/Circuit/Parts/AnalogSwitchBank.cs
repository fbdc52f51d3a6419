using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Analog switches: closed while the control is above its threshold; the resistance ramps geometrically between its two
/// values in the turn time. When one opens, a charge is pushed into either side as the ramp goes, taken from the control's
/// reference. Thermal noise. Left out: resistance that changes with the signal, capacitances, signal range, delay.
/// </summary>
internal sealed class AnalogSwitchBank : PartBank, ISwitching, ICornered
{
    private readonly TwoPole[] paths;
    private readonly int[] control;
    private readonly int[] reference;
    private readonly Latches latches;
    private readonly double[] injected;
    private readonly double[] threshold;
    private readonly double[] onResistance;
    private readonly double[] offResistance;

    public AnalogSwitchBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        paths = [.. parts.Select(part => new TwoPole(at.Net(part, "a"), at.Net(part, "b"), at))];
        control = [.. parts.Select(part => at.Net(part, "control"))];
        reference = [.. parts.Select(part => at.Net(part, "reference"))];
        latches = new(Count);
        injected = Numbers("injected charge");
        threshold = Numbers("threshold");
        onResistance = Numbers("on resistance");
        offResistance = Numbers("off resistance");
    }

    /// <inheritdoc/>
    public int Watches => Count;

    /// <inheritdoc/>
    public IEnumerable<int> Reads => control.Concat(reference);

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
            latches.Set(i, 0, Numbers("turn time")[i], 0);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] x = pass.X;
        double[] f = pass.F;
        for (int i = first; i < end; i++)
        {
            TwoPole path = paths[i];
            double g = Conductance(i, pass.Time);
            double current = g * (x[path.A] - x[path.B]);
            f[path.A] += current;
            f[path.B] -= current;
            path.Add(pass.G, g);
            if (injected[i] == 0 || pass.Regime == Regime.Rest)
                continue;
            double push = injected[i] * Math.Max(0, -latches.Ramps.Rate(i, pass.Time));
            f[path.A] -= push;
            f[path.B] -= push;
            f[reference[i]] += 2 * push;
        }
    }

    /// <inheritdoc/>
    public double Watch(int watch, double[] x, double time)
    {
        double over = x[control[watch]] - x[reference[watch]] - threshold[watch];
        return latches.IsHigh(watch) ? -over : over;
    }

    /// <inheritdoc/>
    public void Cross(int watch, double time) => latches.Toggle(watch, time);

    /// <inheritdoc/>
    public bool Settle(int watch, double[] x) =>
        latches.Settle(watch, latches.IsHigh(watch) != Watch(watch, x, 0) > 0);

    /// <inheritdoc/>
    public int PartOf(int watch) => watch;

    /// <inheritdoc/>
    public double CauseOf(int part, double time) => latches.Ramps.CauseOf(part, time);

    /// <inheritdoc/>
    public bool Moves(int part, double time) => latches.Ramps.Rate(part, time) != 0;

    /// <inheritdoc/>
    public (double Cause, bool IsEnd)? CornerAt(int part, double time) => latches.Ramps.CornerAt(part, time);

    /// <inheritdoc/>
    public double[] Save() => latches.Save();

    /// <inheritdoc/>
    public void Restore(double[] state) => latches.Restore(state);

    /// <inheritdoc/>
    public double NextCorner(double after) => latches.Ramps.NextCorner(after);

    public override void Noise(Pass pass, int part, NoiseList into) =>
        paths[part].AddNoise(into, $"{Parts[part].Name} thermal", pass.Temperature, Conductance(part, pass.Time));

    private double Conductance(int i, double time)
    {
        double level = latches.Ramps.Level(i, time);
        double on = Least.Conductance(onResistance[i]);
        if (level >= 1)
            return on;
        // A switch whose off resistance was set to its ideal of infinity still needs a way for its ramp.
        double off = Math.Max(Least.Conductance(offResistance[i]), 1e-18);
        return level <= 0 ? off : off * Math.Pow(on / off, level);
    }
}
