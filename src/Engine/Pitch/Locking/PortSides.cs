using Consort.Engine.Circuit;

namespace Consort.Engine.Pitch.Locking;

/// <summary>What oscillators of several voices are seen from their shared nets at one note, one of each kind read for all.</summary>
internal sealed class PortSides
{
    private readonly Dictionary<string, (PortSide? Side, SolveFailure? Failure)> byKind = [];

    private PortSides() { }

    /// <summary>Reads the first oscillator of each kind, by the order of the readers.</summary>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public static PortSides Read(IReadOnlyList<LockReader> readers, double volts, int threads, CancellationToken cancel)
    {
        (LockReader Reader, int Oscillator, string Kind)[] firsts =
        [
            .. readers.SelectMany(reader => reader.Looked.Select(oscillator => (reader, oscillator, Kind: reader.KindOf(oscillator)))).DistinctBy(one => one.Kind),
        ];
        (PortSide?, SolveFailure?)[] read = new (PortSide?, SolveFailure?)[firsts.Length];
        ParallelWork.Each(firsts.Length, threads, k => read[k] = firsts[k].Reader.ReadSide(volts, firsts[k].Oscillator), cancel);
        PortSides sides = new();
        for (int k = 0; k < firsts.Length; k++)
            sides.byKind[firsts[k].Kind] = read[k];
        return sides;
    }

    /// <summary>Of one kind.</summary>
    public (PortSide? Side, SolveFailure? Failure) Of(string kind) => byKind[kind];
}
