using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Ideal currents through the source from 'from' to 'to'.</summary>
internal sealed class CurrentSourceBank : PartBank, ICornered, IExciting
{
    private readonly int[] from;
    private readonly int[] to;
    private readonly Waveforms waveforms;
    private readonly FormulaTape?[] tapes;
    private readonly int[][] fromByNets;
    private readonly int[][] toByNets;

    public CurrentSourceBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        from = [.. parts.Select(part => at.Net(part, "from"))];
        to = [.. parts.Select(part => at.Net(part, "to"))];
        waveforms = new(this);
        tapes = [.. parts.Select(part => FormulaTape.Of(part, at))];
        fromByNets = [.. tapes.Select((tape, i) => tape is null ? [] : tape.SlotsOf(from[i], at))];
        toByNets = [.. tapes.Select((tape, i) => tape is null ? [] : tape.SlotsOf(to[i], at))];
    }

    /// <inheritdoc/>
    public override bool HangsOnTime(double time) => waveforms.Vary(tapes);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double current = waveforms.At(i, pass.Time);
            if (tapes[i] is { } tape)
            {
                current += tape.Evaluate(pass.X, pass.Time, pass.Temperature);
                tape.Add(pass.G, fromByNets[i], 1);
                tape.Add(pass.G, toByNets[i], -1);
            }
            pass.F[from[i]] += current;
            pass.F[to[i]] -= current;
        }
    }

    /// <inheritdoc/>
    public double NextCorner(double after) => waveforms.NextCorner(after);

    /// <inheritdoc/>
    public void Excite(double[] rightHandSide)
    {
        double[] amplitude = Numbers("small signal");
        for (int i = 0; i < Count; i++)
        {
            rightHandSide[from[i]] -= amplitude[i];
            rightHandSide[to[i]] += amplitude[i];
        }
    }
}
