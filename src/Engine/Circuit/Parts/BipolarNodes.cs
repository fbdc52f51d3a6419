using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Unknowns and slots of one bipolar transistor.</summary>
internal readonly struct BipolarNodes
{
    public readonly int OuterCollector,
        OuterBase,
        OuterEmitter;
    public readonly int Collector,
        Base,
        Emitter;
    public readonly Quad CollectorSeries,
        BaseSeries,
        EmitterSeries;
    private readonly int cc,
        cb,
        ce,
        bc,
        bb,
        be,
        ec,
        eb,
        ee;

    public BipolarNodes(Part part, Assembly at)
    {
        OuterCollector = at.Net(part, "collector");
        OuterBase = at.Net(part, "base");
        OuterEmitter = at.Net(part, "emitter");
        Collector = Inner(part, "collector", OuterCollector, at, out CollectorSeries);
        Base = Inner(part, "base", OuterBase, at, out BaseSeries);
        Emitter = Inner(part, "emitter", OuterEmitter, at, out EmitterSeries);
        (cc, cb, ce) = (at.Slot(Collector, Collector), at.Slot(Collector, Base), at.Slot(Collector, Emitter));
        (bc, bb, be) = (at.Slot(Base, Collector), at.Slot(Base, Base), at.Slot(Base, Emitter));
        (ec, eb, ee) = (at.Slot(Emitter, Collector), at.Slot(Emitter, Base), at.Slot(Emitter, Emitter));
    }

    /// <summary>Adds the derivatives of what enters collector and base by the two junction voltages. The transistor's
    /// sign stands in both current and voltage, so it cancels.</summary>
    public void AddFlow(double[] matrix, double cByBe, double cByBc, double bByBe, double bByBc)
    {
        double eByBe = -(cByBe + bByBe);
        double eByBc = -(cByBc + bByBc);
        matrix[cc] -= cByBc;
        matrix[cb] += cByBe + cByBc;
        matrix[ce] -= cByBe;
        matrix[bc] -= bByBc;
        matrix[bb] += bByBe + bByBc;
        matrix[be] -= bByBe;
        matrix[ec] -= eByBc;
        matrix[eb] += eByBe + eByBc;
        matrix[ee] -= eByBe;
    }

    private static int Inner(Part part, string terminal, int outer, Assembly at, out Quad series)
    {
        series = default;
        if (part.Number($"{terminal} resistance") <= 0)
            return outer;
        int inner = at.Inner(part, terminal, UnknownKind.Voltage);
        series = at.Quad(outer, inner);
        return inner;
    }
}
