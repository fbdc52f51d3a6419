using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Parts;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>A part solved as it is, in lanes: adds what it differs by from the design's rest, and its slopes.</summary>
internal abstract class LiveDevice<T>
    where T : struct, ILanes<T>
{
    /// <summary>Takes a temperature and the builds' departures, by the plan's parameters.</summary>
    public abstract void Prepare(int k, ReadOnlySpan<T> departures);

    /// <summary>Adds to the equations and slopes that are left.</summary>
    /// <param name="n">Note.</param>
    /// <param name="moves">δ of the unknowns left.</param>
    /// <param name="f">Equations left.</param>
    /// <param name="slopes">Row by row.</param>
    public abstract void Add(int n, ReadOnlySpan<T> moves, Span<T> f, Span<T> slopes);

    /// <summary>The device for a live part.</summary>
    /// <param name="plan">The plan that holds it.</param>
    /// <param name="part">The part.</param>
    /// <param name="circuit">A compiled circuit that nobody else uses.</param>
    public static LiveDevice<T> For(PathPlan plan, LivePart part, Circuit.Circuit circuit)
    {
        PartPlace place = circuit.Find(part.Name);
        return place.Bank switch
        {
            BipolarBank bank => new BipolarDevice<T>(plan, part, bank, place.Index),
            OtaBank => new BiasedDevice<T>(plan, part, circuit, place),
            _ => new PlainDevice<T>(plan, part, circuit, place),
        };
    }
}
