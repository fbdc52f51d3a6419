using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Parts;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>A bipolar transistor in lanes: the currents of <see cref="BipolarLaw"/>. Left out of it: the tangents past 10 kA
/// and the fade of a wild Early effect, which are for guesses, and the reverse junction where it never conducts.</summary>
internal sealed class BipolarDevice<T> : LiveDevice<T>
    where T : struct, ILanes<T>
{
    private const double Dead = -36; // e^-36 is a rounding beside the 1 that is always subtracted
    private static readonly double PerReferenceVt = 1 / Constants.ThermalVoltage(Constants.ReferenceTemperature);

    private struct Law
    {
        public T Saturation, PerForwardGain, PerReverseGain;
        public T PerForwardSlope, PerReverseSlope, PerEmitterLeakSlope, PerCollectorLeakSlope;
        public T EmitterLeak, CollectorLeak, Offset;
    }

    private readonly BipolarLaw[] laws;
    private readonly double[] kelvins;
    private readonly double exponent, gap, gainExponent, emitterEmission, collectorEmission;
    private readonly int saturation, gain, offset, gradient;
    private readonly int c, b, e, rowC, rowB, rowE;
    private readonly int width;
    private readonly double[][] vbe; // by temperature and note, of the design
    private readonly double[][] vbc;
    private readonly bool[] hasReverse;
    private readonly double[][] ownC;
    private readonly double[][] ownB;
    private Law now;
    private int at;

    public BipolarDevice(PathPlan plan, LivePart part, BipolarBank bank, int index)
    {
        kelvins = plan.Kelvins;
        laws = [.. kelvins.Select(kelvin => bank.LawAt(index, kelvin))];
        exponent = bank.Numbers("saturation exponent")[index];
        gap = bank.Numbers("energy gap")[index] * Constants.Charge / Constants.Boltzmann;
        gainExponent = bank.Numbers("gain exponent")[index];
        emitterEmission = bank.Numbers("base-emitter leakage emission")[index];
        collectorEmission = bank.Numbers("base-collector leakage emission")[index];
        (saturation, gain, offset, gradient) = (Find("saturation current"), Find("forward gain"), Find("offset"), Find("gradient"));
        (int collector, int baseNode, int emitter) = bank.Inner(index);
        (c, b, e) = (Left(part.Nodes, part.Columns, collector), Left(part.Nodes, part.Columns, baseNode), Left(part.Nodes, part.Columns, emitter));
        (rowC, rowB, rowE) =
            (Left(part.RowUnknowns, part.Rows, collector), Left(part.RowUnknowns, part.Rows, baseNode), Left(part.RowUnknowns, part.Rows, emitter));
        width = plan.Elimination.Rows.Length;
        double sign = laws[0].Sign;
        vbe = [.. plan.Points.X.Select(notes => notes.Select(x => sign * (x[baseNode] - x[emitter])).ToArray())];
        vbc = [.. plan.Points.X.Select(notes => notes.Select(x => sign * (x[baseNode] - x[collector])).ToArray())];
        hasReverse = [.. kelvins.Select((_, k) => vbc[k].Max() / laws[k].ReverseSlope > Dead + 10)];
        (ownC, ownB) = (Own(), Own());
        for (int k = 0; k < kelvins.Length; k++)
        {
            Prepare(k, []);
            for (int n = 0; n < plan.Volts.Length; n++)
            {
                Currents(n, T.Of(0), T.Of(0), out Flow flow);
                (ownC[k][n], ownB[k][n]) = (First(flow.Ic), First(flow.Ib));
            }
        }

        int Find(string word)
        {
            foreach ((string known, int parameter) in part.Parameters)
                if (known == word)
                    return parameter;
            return -1;
        }
        double[][] Own() => [.. kelvins.Select(_ => new double[plan.Volts.Length])];
    }

    private static int Left(int[] nodes, int[] places, int node) => node > 0 && Array.IndexOf(nodes, node) is >= 0 and int at ? places[at] : -1;

    private static double First(T value)
    {
        Span<double> lanes = stackalloc double[T.Count];
        T.Store(value, lanes);
        return lanes[0];
    }

    public override void Prepare(int k, ReadOnlySpan<T> departures)
    {
        at = k;
        BipolarLaw law = laws[k];
        now.Saturation = T.Of(law.Saturation);
        now.PerForwardGain = T.Of(1 / law.ForwardGain);
        now.PerReverseGain = T.Of(1 / law.ReverseGain);
        now.PerForwardSlope = T.Of(1 / law.ForwardSlope);
        now.PerReverseSlope = T.Of(1 / law.ReverseSlope);
        now.PerEmitterLeakSlope = T.Of(1 / law.EmitterLeakSlope);
        now.PerCollectorLeakSlope = T.Of(1 / law.CollectorLeakSlope);
        now.EmitterLeak = T.Of(law.EmitterLeak);
        now.CollectorLeak = T.Of(law.CollectorLeak);
        now.Offset = T.Of(law.Offset);
        if (departures.IsEmpty)
            return;
        if (saturation >= 0)
            now.Saturation *= LaneMath.Exp(-departures[saturation] * T.Of(PerReferenceVt));
        if (gain >= 0)
            now.PerForwardGain /= T.Of(1) + departures[gain];
        if (offset >= 0)
            now.Offset += departures[offset];
        if (gradient >= 0)
            Warm(departures[gradient]);
    }

    // The laws of temperature, from the design's temperature to that of a warmer half.
    private void Warm(T kelvins)
    {
        double own = this.kelvins[at];
        T ratio = T.Of(1) + kelvins / T.Of(own);
        T logarithm = LaneMath.Log(ratio);
        T growth = T.Fma(T.Of(exponent), logarithm, T.Of(gap) * (T.Of(1 / own) - T.Of(1) / (T.Of(own) + kelvins)));
        T gains = LaneMath.Exp(T.Of(gainExponent) * logarithm);
        now.Saturation *= LaneMath.Exp(growth);
        now.PerForwardGain /= gains;
        now.PerReverseGain /= gains;
        now.PerForwardSlope /= ratio;
        now.PerReverseSlope /= ratio;
        now.PerEmitterLeakSlope /= ratio;
        now.PerCollectorLeakSlope /= ratio;
        now.EmitterLeak *= LaneMath.Exp(growth / T.Of(emitterEmission)) / gains;
        now.CollectorLeak *= LaneMath.Exp(growth / T.Of(collectorEmission)) / gains;
    }

    public override void Add(int n, ReadOnlySpan<T> moves, Span<T> f, Span<T> slopes)
    {
        T zero = T.Of(0);
        T movedB = b < 0 ? zero : moves[b];
        T sign = T.Of(laws[at].Sign);
        T be = sign * (movedB - (e < 0 ? zero : moves[e]));
        T bc = sign * (movedB - (c < 0 ? zero : moves[c]));
        Currents(n, be, bc, out Flow flow);
        T ic = sign * (flow.Ic - T.Of(ownC[at][n]));
        T ib = sign * (flow.Ib - T.Of(ownB[at][n]));
        AddRow(f, slopes, rowC, ic, flow.IcByBe, flow.IcByBc);
        AddRow(f, slopes, rowB, ib, flow.IbByBe, flow.IbByBc);
        AddRow(f, slopes, rowE, -(ic + ib), -(flow.IcByBe + flow.IbByBe), -(flow.IcByBc + flow.IbByBc));
    }

    private void AddRow(Span<T> f, Span<T> slopes, int row, T current, T byBe, T byBc)
    {
        if (row < 0)
            return;
        f[row] += current;
        Span<T> own = slopes.Slice(row * width, width);
        if (b >= 0)
            own[b] += byBe + byBc;
        if (e >= 0)
            own[e] -= byBe;
        if (c >= 0)
            own[c] -= byBc;
    }

    private struct Flow
    {
        public T Ic, IcByBe, IcByBc, Ib, IbByBe, IbByBc;
    }

    private void Currents(int n, T moveBe, T moveBc, out Flow flow)
    {
        ref readonly BipolarLaw law = ref laws[at];
        T one = T.Of(1);
        T be = T.Of(vbe[at][n]) + moveBe - now.Offset;
        T bc = T.Of(vbc[at][n]) + moveBc;
        T rise = now.Saturation * LaneMath.Exp(be * now.PerForwardSlope);
        T forward = rise - now.Saturation;
        T gForward = rise * now.PerForwardSlope;
        T back = hasReverse[at] ? now.Saturation * LaneMath.Exp(bc * now.PerReverseSlope) : T.Of(0);
        T reverse = back - now.Saturation;
        T gReverse = back * now.PerReverseSlope;

        T early = one - bc * T.Of(law.PerEarly) - be * T.Of(law.PerReverseEarly);
        T load = one + T.Of(4) * (forward * T.Of(law.PerKneeCurrent) + reverse * T.Of(law.PerReverseKneeCurrent));
        T root = T.Sqrt(load);
        T per = T.Of(2) / (one + root);
        T perByLoad = T.Of(-0.25) * per * per / root;
        T perQb = early * per;
        T perQbByBe = early * perByLoad * T.Of(4 * law.PerKneeCurrent) * gForward - T.Of(law.PerReverseEarly) * per;
        T perQbByBc = early * perByLoad * T.Of(4 * law.PerReverseKneeCurrent) * gReverse - T.Of(law.PerEarly) * per;
        T difference = forward - reverse;

        T ibe = forward * now.PerForwardGain;
        T gbe = gForward * now.PerForwardGain;
        T ibc = reverse * now.PerReverseGain;
        T gbc = gReverse * now.PerReverseGain;
        if (law.EmitterLeak > 0)
        {
            T leak = now.EmitterLeak * LaneMath.Exp(be * now.PerEmitterLeakSlope);
            ibe += leak - now.EmitterLeak;
            gbe += leak * now.PerEmitterLeakSlope;
        }
        if (law.CollectorLeak > 0)
        {
            T leak = now.CollectorLeak * LaneMath.Exp(bc * now.PerCollectorLeakSlope);
            ibc += leak - now.CollectorLeak;
            gbc += leak * now.PerCollectorLeakSlope;
        }
        flow.Ic = difference * perQb - ibc;
        flow.IcByBe = gForward * perQb + difference * perQbByBe;
        flow.IcByBc = difference * perQbByBc - gReverse * perQb - gbc;
        flow.Ib = ibe + ibc;
        flow.IbByBe = gbe;
        flow.IbByBc = gbc;
    }
}
