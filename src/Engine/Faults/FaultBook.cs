using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Faults;

/// <summary>What every fault of a module would make its figures be, and how sound units spread: each solved through the circuit.</summary>
public sealed class FaultBook
{
    private const int Builds = 100;
    private const int FaultyBuilds = 8;
    private const ulong Seed = 4;

    private static readonly RandomPoints Points = new(Seed);

    // Meters: a multimeter, an oscilloscope, a counter (common practice, no source). Share and floor.
    private static readonly Dictionary<FigureKind, (double Share, double Floor)> Meters = new()
    {
        [FigureKind.Mean] = (0.005, 5e-3),
        [FigureKind.Lowest] = (0.03, 50e-3),
        [FigureKind.Highest] = (0.03, 50e-3),
        [FigureKind.Swing] = (0.03, 50e-3),
        [FigureKind.Current] = (0.01, 0.2e-3),
        [FigureKind.Pitch] = (0, 1.0 / 1200),
    };

    private readonly double[][] sound;
    private readonly Dictionary<FaultEntry, Forecast> drawn = [];

    private FaultBook(FigureReader reader, double[][] sound, ImmutableArray<FaultEntry> entries, int unsolved)
    {
        (Reader, this.sound, Entries, Unsolved) = (reader, sound, entries, unsolved);
        Sound = Forecast.OfSound(sound);
    }

    internal FigureReader Reader { get; }

    /// <summary>What is read, in the order of all lists of figures.</summary>
    public IReadOnlyList<UnitFigure> Figures => Reader.Figures;

    /// <summary>What a sound unit's figures are.</summary>
    internal Forecast Sound { get; }

    /// <summary>Every fault with its figures.</summary>
    internal ImmutableArray<FaultEntry> Entries { get; }

    /// <summary>Faults whose circuit has no answer: nothing is said of them.</summary>
    public int Unsolved { get; }

    /// <summary>Faults that are known.</summary>
    public int Count => Entries.Length;

    /// <summary>Writes the book of a member. Null when the sound circuit has no answer.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="member">Its member.</param>
    /// <param name="stock">The shelf: how parts spread.</param>
    /// <param name="threads">How many may work; the book does not depend on it.</param>
    /// <param name="progress">Told the share that is done.</param>
    /// <param name="cancel">Ends it before its next fault.</param>
    public static FaultBook? Write(Voice voice, Member member, Stock stock, int threads, Action<double>? progress = null, CancellationToken cancel = default)
    {
        FigureReader reader = new(Fit.UnitAlone.Of(voice, member), member, stock);
        if (reader.Read(null) is not { } design)
            return null;
        ImmutableArray<Fault> faults = FaultList.Of(member.Module);
        double[]?[] read = new double[]?[faults.Length + Builds];
        int done = 0;
        ParallelWork.Share(read.Length, threads, (_, i) =>
        {
            cancel.ThrowIfCancellationRequested();
            read[i] = i < faults.Length ? reader.Read(faults[i]) : reader.Read(null, Points, i - faults.Length);
            progress?.Invoke((double)Interlocked.Increment(ref done) / read.Length);
        });
        double[][] sound = [.. read.Skip(faults.Length).OfType<double[]>()];
        if (sound.Length < Builds || !Array.TrueForAll(sound, figures => Array.TrueForAll(figures, double.IsFinite)))
            return null;
        FaultEntry[] entries = [.. faults.Select((fault, f) => (fault, figures: read[f])).Where(pair => pair.figures is not null).Select(pair => new FaultEntry(pair.fault, [.. pair.figures!.Select((value, i) => value - design[i])]))];
        return new(reader, sound, [.. entries], faults.Length - entries.Length);
    }

    /// <summary>Standard deviation of a figure's reading: the meter's.</summary>
    internal double Meter(int figure, double value)
    {
        (double share, double floor) = Meters[Figures[figure].Kind];
        return Math.Sqrt(Math.Pow(share * value, 2) + floor * floor);
    }

    /// <summary>What a fault makes the figures be, from the design alone.</summary>
    internal Forecast Foretold(FaultEntry entry) => Sound.Moved(entry.Moved, Figures);

    /// <summary>The same from builds of its own, with their spread.</summary>
    internal Forecast Drawn(FaultEntry entry)
    {
        if (!drawn.ContainsKey(entry))
            Draw([entry], 1);
        return drawn[entry];
    }

    /// <summary>Solves the builds of some faults, where that was not done before.</summary>
    internal void Draw(IEnumerable<FaultEntry> entries, int threads, CancellationToken cancel = default)
    {
        FaultEntry[] missing = [.. entries.Where(entry => !drawn.ContainsKey(entry))];
        double[]?[] read = new double[]?[missing.Length * FaultyBuilds];
        ParallelWork.Share(read.Length, threads, (_, i) =>
        {
            cancel.ThrowIfCancellationRequested();
            read[i] = Reader.Read(missing[i / FaultyBuilds].Fault, Points, i % FaultyBuilds);
        });
        for (int f = 0; f < missing.Length; f++)
            drawn[missing[f]] = Sound.Drawn(read[(f * FaultyBuilds)..((f + 1) * FaultyBuilds)], sound, Figures);
    }
}

/// <summary>A fault of a book.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Moved">What it adds to each figure of the design.</param>
internal sealed record FaultEntry(Fault Fault, double[] Moved);
