using Consort.Engine.Design;
using Consort.Engine.Expected;
using Consort.Engine.Faults;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Tests.Invented;

/// <summary>Where the true fault stands after so many readings.</summary>
/// <param name="Figures">How many figures were read.</param>
/// <param name="Own">Rank of the very fault, from 1; 0: not listed.</param>
/// <param name="Alike">Rank of it or of one that those readings cannot tell from it.</param>
/// <param name="Part">Rank of the first that names the right part.</param>
/// <param name="Weight">What the first explanation is given, 0 to 1.</param>
internal sealed record FaultRank(int Figures, int Own, int Alike, int Part, double Weight);

/// <summary>One blind unit.</summary>
/// <param name="Fault">What was put in.</param>
/// <param name="Shows">True when all readings at the test places can show it.</param>
/// <param name="Full">All test places at once, then with three figures more, as asked for.</param>
/// <param name="Growing">From pitch, currents and output jacks, three figures more each time.</param>
/// <param name="Taken">What came first; null when no fault was claimed.</param>
internal sealed record FaultTrial(FaultEntry Fault, bool Shows, FaultRank[] Full, FaultRank[] Growing, Fault? Taken);

/// <summary>Blind trials of fault finding on one module: units with other parts than the book's, one fault each, read by meters.</summary>
internal sealed class FaultTrials
{
    /// <summary>How often three more figures are asked for, beginning at the jacks.</summary>
    public const int Rounds = 3;

    private static readonly FigureKind[] Scope = [FigureKind.Mean, FigureKind.Lowest, FigureKind.Highest];

    private readonly FaultBook book;
    private readonly FaultFinder finder;
    private readonly int[] all;
    private readonly int[] jacks;
    private readonly FigureSpread spread;
    private readonly RandomBits noise = new(31);

    public FaultTrials(FaultBook book, Module module)
    {
        (this.book, finder) = (book, new(book));
        all = At([.. TestPlaces.Of(module).Select(place => place.Net)]);
        jacks = At([.. module.Circuit.Where(part => part.Kind.Word == "jack" && part.Texts["value"] == "output").Select(part => part.NetAt("tip")!)]);
        spread = new(book, all);
        Visible = book.Entries.Count(entry => finder.Shows(entry, spread));
    }

    /// <summary>Faults of the book that the readings at all test places can show.</summary>
    public int Visible { get; }

    /// <summary>How many figures are read at all test places, and at jacks alone.</summary>
    public (int All, int Jacks) Read => (all.Length, jacks.Length);

    public FaultBook Book => book;
    public List<FaultTrial> Trials { get; } = [];
    public int Unsolved { get; private set; }
    public int Sound { get; private set; }
    public List<string> SoundClaimed { get; } = [];

    /// <summary>Trials of faults that show.</summary>
    public FaultTrial[] Seen => [.. Trials.Where(trial => trial.Shows)];

    /// <summary>Faults are drawn from the whole book until so many were seen that the readings can show.</summary>
    public void Run(int faults, int sound, ulong seed, bool grows = true)
    {
        RandomBits bits = new(seed);
        for (int i = 0; Trials.Count(trial => trial.Shows) < faults; i++)
        {
            FaultEntry entry = book.Entries[(int)(bits.At((ulong)i) % (ulong)book.Count)];
            if (book.Reader.Read(entry.Fault, new RandomPoints(seed), i) is { } figures)
                Trials.Add(One(entry, figures, (ulong)i, grows));
            else
                Unsolved++;
        }
        for (int i = 0; i < sound; i++)
            if (book.Reader.Read(null, new RandomPoints(seed), 100_000 + i) is { } figures)
                Left(figures, 100_000 + i);
    }

    private void Left(double[] figures, int number)
    {
        Sound++;
        Diagnosis found = finder.Find(Noisy(figures, all, (ulong)number));
        if (!found.IsSound)
            SoundClaimed.Add($"sound unit {number}: {found.Ranked[0].Fault.Words} ({found.Ranked[0].Weight:0.00})");
    }

    private FaultTrial One(FaultEntry entry, double[] figures, ulong number, bool grows)
    {
        (FaultRank[] full, Fault? taken) = Rounded(entry, figures, all, 1, number);
        bool shows = finder.Shows(entry, spread);
        return new(entry, shows, full, grows && shows ? Rounded(entry, figures, jacks, Rounds, number).Ranks : [], taken);
    }

    private (FaultRank[] Ranks, Fault? First) Rounded(FaultEntry entry, double[] figures, int[] begin, int rounds, ulong number)
    {
        List<int> read = [.. begin];
        List<FaultRank> ranks = [];
        Fault? first = null;
        for (int round = 0; round <= rounds; round++)
        {
            Diagnosis found = finder.Find(Noisy(figures, read, number));
            ranks.Add(Rank(entry, found, [.. read]));
            if (round == 0)
                first = found.Ranked.FirstOrDefault()?.Fault;
            read.AddRange(found.Next.Select(next => next.Figure));
        }
        return ([.. ranks], first);
    }

    private FaultRank Rank(FaultEntry entry, Diagnosis found, int[] read)
    {
        FigureSpread own = new(book, read);
        FaultEntry[] ranked = [.. found.Ranked.Select(one => book.Entries.First(other => other.Fault == one.Fault))];
        return new(
            read.Length,
            1 + Array.IndexOf(ranked, entry),
            1 + Array.FindIndex(ranked, one => finder.AreAlike(entry, one, own)),
            1 + Array.FindIndex(ranked, one => one.Fault.Part == entry.Fault.Part),
            found.Ranked.FirstOrDefault()?.Weight ?? 0
        );
    }

    // A figure's error is its unit's own, whenever it is read.
    private FigureReading[] Noisy(double[] figures, IEnumerable<int> which, ulong number) =>
        [.. which.Where(i => double.IsFinite(figures[i])).Select(i => new FigureReading(i, figures[i] + book.Meter(i, figures[i]) * NormalLaw.Quantile(RandomBits.Share(noise.Stream(number).At((ulong)i)))))];

    private int[] At(HashSet<string> places) =>
        [.. Enumerable.Range(0, book.Figures.Count).Where(i => book.Figures[i].Kind is FigureKind.Current or FigureKind.Pitch || (Scope.Contains(book.Figures[i].Kind) && places.Contains(book.Figures[i].Place)))];
}
