using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Unknowns and slots of one field-effect transistor. Without a body terminal the body is the inner source.</summary>
internal readonly struct FetNodes
{
    public readonly int Drain,
        Gate,
        Source,
        Body;
    public readonly Quad GateSource,
        GateDrain,
        DrainSource,
        BodyDrain,
        BodySource;
    private readonly TwoPole drainSeries,
        sourceSeries;
    private readonly int dd,
        dg,
        ds,
        db,
        sd,
        sg,
        ss,
        sb;

    public FetNodes(Part part, bool hasBody, Assembly at)
    {
        Gate = at.Net(part, "gate");
        Drain = Inner(part, "drain", at, out drainSeries);
        Source = Inner(part, "source", at, out sourceSeries);
        Body = hasBody ? at.Net(part, "body") : Source;
        GateSource = at.Quad(Gate, Source);
        GateDrain = at.Quad(Gate, Drain);
        DrainSource = at.Quad(Drain, Source);
        BodyDrain = at.Quad(Body, Drain);
        BodySource = at.Quad(Body, Source);
        (dd, dg, ds, db) = (DrainSource.AA, at.Slot(Drain, Gate), DrainSource.AB, at.Slot(Drain, Body));
        (sd, sg, ss, sb) = (DrainSource.BA, at.Slot(Source, Gate), DrainSource.BB, at.Slot(Source, Body));
    }

    public void AddSeries(double[] matrix, double drain, double source)
    {
        if (drainSeries.IsThere)
            drainSeries.Add(matrix, drain);
        if (sourceSeries.IsThere)
            sourceSeries.Add(matrix, source);
    }

    public void AddSeriesNoise(NoiseList into, string name, double kelvin, double drain, double source)
    {
        drainSeries.AddNoise(into, $"{name} drain thermal", kelvin, Least.Conductance(drain));
        sourceSeries.AddNoise(into, $"{name} source thermal", kelvin, Least.Conductance(source));
    }

    /// <summary>
    /// Adds the channel's current, which enters at the acting drain, and its derivatives by the voltages of gate, acting
    /// drain and body against the acting source. The transistor's sign is in the current and cancels in the derivatives.
    /// </summary>
    public void AddChannel(Pass pass, bool isTurned, double current, double byGate, double byDrain, double byBody)
    {
        double bySource = -(byGate + byDrain + byBody);
        if (isTurned)
        {
            (byDrain, bySource) = (-bySource, -byDrain);
            (current, byGate, byBody) = (-current, -byGate, -byBody);
        }
        pass.F[Drain] += current;
        pass.F[Source] -= current;
        double[] g = pass.G;
        g[dd] += byDrain;
        g[dg] += byGate;
        g[ds] += bySource;
        g[db] += byBody;
        g[sd] -= byDrain;
        g[sg] -= byGate;
        g[ss] -= bySource;
        g[sb] -= byBody;
    }

    private static int Inner(Part part, string terminal, Assembly at, out TwoPole series)
    {
        int outer = at.Net(part, terminal);
        series = default;
        if (part.Number($"{terminal} resistance") <= 0)
            return outer;
        int inner = at.Inner(part, terminal, UnknownKind.Voltage);
        series = new(outer, inner, at);
        return inner;
    }
}
