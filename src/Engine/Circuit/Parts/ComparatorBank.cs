using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Comparators: the decision v(plus) − v(minus) + offset against half of the hysteresis is latched where it falls; the
/// output follows after the delay with a ramp. An open collector is a conductance to its emitter (from the saturation
/// voltage) that ramps geometrically between 1e-10 S and 1/Ron; a push-pull output is a voltage that ramps between the
/// supplies behind Ron. Every crossing comes out again, however short: the delay is one of transport. Left out: delay that
/// depends on overdrive, input range, noise of the decision.
/// </summary>
internal sealed class ComparatorBank : PartBank, ISwitching, ICornered
{
    private const double OffConductance = 1e-10;
    private const double LeakWidth = 0.1;
    private const double Awake = 3;

    private readonly int[] plus;
    private readonly int[] minus;
    private readonly int[] output;
    private readonly int[] emitter;
    private readonly int[] positive;
    private readonly int[] negative;
    private readonly bool[] isPushPull;
    private readonly Quad[] pull;
    private readonly Quad[] supply;
    private readonly (int OutByPositive, int OutByNegative, int PositiveByOut, int NegativeByOut)[] drive;
    private readonly Latches latches;
    private readonly double[] bias;
    private readonly double[] supplyCurrent;
    private readonly double[] hysteresis;
    private readonly double[] onResistance;
    private readonly double[] offset;
    private readonly double[] saturation;
    private readonly double[] leakage;

    public ComparatorBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        plus = [.. parts.Select(part => at.Net(part, "plus"))];
        minus = [.. parts.Select(part => at.Net(part, "minus"))];
        output = [.. parts.Select(part => at.Net(part, "out"))];
        positive = [.. parts.Select(part => at.Net(part, "supply +"))];
        negative = [.. parts.Select(part => at.Net(part, "supply -"))];
        emitter = [.. parts.Select((part, i) => part.NetAt("emitter") is null ? negative[i] : at.Net(part, "emitter"))];
        isPushPull = [.. parts.Select(part => part.Texts.GetValueOrDefault("output") == "push-pull")];
        pull = [.. output.Zip(emitter, at.Quad)];
        supply = [.. positive.Zip(negative, at.Quad)];
        drive =
        [
            .. output.Select(
                (row, i) =>
                    isPushPull[i]
                        ? (
                            at.Slot(row, positive[i]),
                            at.Slot(row, negative[i]),
                            at.Slot(positive[i], row),
                            at.Slot(negative[i], row)
                        )
                        : default
            ),
        ];
        latches = new(Count);
        bias = Numbers("bias current");
        supplyCurrent = Numbers("supply current");
        hysteresis = Numbers("hysteresis");
        onResistance = Numbers("on resistance");
        offset = Numbers("offset");
        saturation = Numbers("saturation voltage");
        leakage = Numbers("off leakage");
    }

    /// <inheritdoc/>
    public int Watches => Count;

    /// <inheritdoc/>
    public IEnumerable<int> Reads => plus.Concat(minus);

    public override void Prepare(double kelvin, int first, int end)
    {
        // A level of 1 is a conducting collector, or a push-pull output that is high.
        for (int i = first; i < end; i++)
            latches.Set(i, Numbers("delay")[i], Numbers("ramp")[i], isPushPull[i] ? 0 : 1);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] f = pass.F;
        for (int i = first; i < end; i++)
        {
            double level = latches.Ramps.Level(i, pass.Time);
            if (isPushPull[i])
                StampPushPull(pass, i, level);
            else
                StampOpenCollector(pass, i, level);
            double taken = bias[i];
            f[plus[i]] += taken;
            f[minus[i]] += taken;
            f[negative[i]] -= 2 * taken;
            double awake = Smooth.Step(pass.X[positive[i]] - pass.X[negative[i]], Awake, out double slope);
            double quiescent = supplyCurrent[i];
            f[positive[i]] += quiescent * awake;
            f[negative[i]] -= quiescent * awake;
            supply[i].Add(pass.G, quiescent * slope);
        }
    }

    /// <inheritdoc/>
    public double Watch(int watch, double[] x, double time) =>
        (latches.IsHigh(watch) ? -Difference(watch, x) : Difference(watch, x)) - hysteresis[watch] / 2;

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

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        double g = isPushPull[part]
            ? Least.Conductance(onResistance[part])
            : Conductance(part, latches.Ramps.Level(part, pass.Time));
        into.Add(
            $"{Parts[part].Name} output thermal",
            output[part],
            emitter[part],
            4 * Constants.Boltzmann * pass.Temperature * g
        );
    }

    private double Difference(int i, double[] x) => x[plus[i]] - x[minus[i]] + offset[i];

    private double Conductance(int i, double level)
    {
        double on = Least.Conductance(onResistance[i]);
        return level >= 1 ? on
            : level <= 0 ? OffConductance
            : OffConductance * Math.Pow(on / OffConductance, level);
    }

    private void StampOpenCollector(Pass pass, int i, double level)
    {
        int o = output[i];
        int e = emitter[i];
        double v = pass.X[o] - pass.X[e];
        double g = Conductance(i, level);
        double current = g * (v - saturation[i]);
        double leak = leakage[i] * (1 - level);
        if (leak > 0)
        {
            current += leak * Smooth.Tanh(v / LeakWidth, out double slope);
            g += leak * slope / LeakWidth;
        }
        pass.F[o] += current;
        pass.F[e] -= current;
        pull[i].Add(pass.G, g);
    }

    /// <summary>The output's voltage is a blend of both ends; its current comes from either supply by the same blend.</summary>
    private void StampPushPull(Pass pass, int i, double level)
    {
        double high = pass.X[positive[i]] - saturation[i];
        double low = pass.X[negative[i]] + saturation[i];
        double g = Least.Conductance(onResistance[i]);
        double current = g * (pass.X[output[i]] - level * high - (1 - level) * low);
        pass.F[output[i]] += current;
        pass.F[positive[i]] -= level * current;
        pass.F[negative[i]] -= (1 - level) * current;
        double[] m = pass.G;
        (int outByPositive, int outByNegative, int positiveByOut, int negativeByOut) = drive[i];
        m[pull[i].AA] += g;
        m[outByPositive] -= g * level;
        m[outByNegative] -= g * (1 - level);
        m[positiveByOut] -= g * level;
        m[negativeByOut] -= g * (1 - level);
        m[supply[i].AA] += g * level * level;
        m[supply[i].AB] += g * level * (1 - level);
        m[supply[i].BA] += g * level * (1 - level);
        m[supply[i].BB] += g * (1 - level) * (1 - level);
    }
}
