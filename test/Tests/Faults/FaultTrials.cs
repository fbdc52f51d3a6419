using System.Globalization;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Expected;
using Consort.Engine.Faults;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Tests.Invented;

/// <summary>Blind trials of fault finding on one module: units with other parts than the book's, one fault each, read by meters at the
/// test places of the building guide.</summary>
internal sealed class FaultTrials
{
    private static readonly FigureKind[] Scope = [FigureKind.Mean, FigureKind.Lowest, FigureKind.Highest];

    private readonly FaultBook book;
    private readonly FaultFinder finder;
    private readonly int[] read;
    private readonly RandomBits noise = new(31);
    private ulong drawn;

    public FaultTrials(FaultBook book, Module module)
    {
        (this.book, finder) = (book, new(book));
        HashSet<string> places = [.. TestPlaces.Of(module).Select(place => place.Net)];
        read = [.. Enumerable.Range(0, book.Figures.Count).Where(i => book.Figures[i].Kind is FigureKind.Current or FigureKind.Pitch || (Scope.Contains(book.Figures[i].Kind) && places.Contains(book.Figures[i].Place)))];
        FigureSpread spread = new(book, read);
        Visible = [.. book.Entries.Where(entry => finder.Shows(entry, spread))];
    }

    /// <summary>Faults that these readings can show.</summary>
    public HashSet<FaultEntry> Visible { get; }

    public int Hidden { get; private set; }
    public int HiddenClaimed { get; private set; }
    public int Faults { get; private set; }
    public int Missed { get; private set; }
    public int RightPart { get; private set; }
    public int PartOfThree { get; private set; }
    public int Unsolved { get; private set; }
    public int Sound { get; private set; }
    public int SoundKept { get; private set; }

    /// <summary>Rank of the very fault, and of it or one alike; 0: not listed.</summary>
    public List<(int Own, int Alike)> Ranks { get; } = [];

    /// <summary>The same once three more figures were read, those that were asked for.</summary>
    public List<(int Own, int Alike)> Later { get; } = [];

    public Dictionary<(FaultKind True, FaultKind Taken), int> Confused { get; } = [];
    public Dictionary<FaultKind, int> MissedKinds { get; } = [];
    public List<string> Notes { get; } = [];

    /// <summary>Faults are drawn from the whole book until so many were seen that the readings can show.</summary>
    public void Run(int faults, int sound, ulong seed)
    {
        RandomBits bits = new(seed);
        for (int i = 0; Faults < faults; i++)
            One(book.Entries[(int)(bits.At((ulong)i) % (ulong)book.Count)], seed, i);
        for (int i = 0; i < sound; i++)
            if (book.Reader.Read(null, new RandomPoints(seed), 100_000 + i) is { } figures)
            {
                Sound++;
                Diagnosis found = finder.Find(Noisy(figures, read));
                SoundKept += found.IsSound ? 1 : 0;
                if (!found.IsSound)
                    Notes.Add($"sound unit {i} is said to have: {found.Ranked[0].Fault.Words} ({found.Ranked[0].Weight:0.00}, {found.Furthest:0.0})");
            }
    }

    private void One(FaultEntry entry, ulong seed, long number)
    {
        if (book.Reader.Read(entry.Fault, new RandomPoints(seed), number) is not { } figures)
        {
            Unsolved++;
            return;
        }
        FigureReading[] readings = Noisy(figures, read);
        Diagnosis found = finder.Find(readings);
        if (!Visible.Contains(entry))
        {
            Hidden++;
            HiddenClaimed += found.IsSound ? 0 : 1;
            return;
        }
        Faults++;
        Ranks.Add(Rank(entry, found, read));
        if (found.IsSound)
        {
            Missed++;
            MissedKinds[entry.Fault.Kind] = MissedKinds.GetValueOrDefault(entry.Fault.Kind) + 1;
            Later.Add((0, 0));
            Notes.Add($"missed: {entry.Fault.Words}");
            return;
        }
        RightPart += found.Ranked[0].Fault.Part == entry.Fault.Part ? 1 : 0;
        PartOfThree += found.Ranked.Take(3).Any(one => one.Fault.Part == entry.Fault.Part) ? 1 : 0;
        int[] more = [.. found.Next.Select(next => next.Figure)];
        Later.Add(Rank(entry, finder.Find([.. readings, .. Noisy(figures, more)]), [.. read, .. more]));
        if (Ranks[^1].Own != 1)
        {
            (FaultKind, FaultKind) pair = (entry.Fault.Kind, found.Ranked[0].Fault.Kind);
            Confused[pair] = Confused.GetValueOrDefault(pair) + 1;
            Notes.Add($"{entry.Fault.Words} -> {Ranks[^1]} {Later[^1]}: {found.Ranked[0].Fault.Words} ({found.Ranked[0].Weight:0.00})");
        }
    }

    private (int, int) Rank(FaultEntry entry, Diagnosis found, int[] figures)
    {
        FigureSpread spread = new(book, figures);
        FaultEntry[] ranked = [.. found.Ranked.Select(one => book.Entries.First(other => other.Fault == one.Fault))];
        return (1 + Array.IndexOf(ranked, entry), 1 + Array.FindIndex(ranked, one => finder.AreAlike(entry, one, spread)));
    }

    private FigureReading[] Noisy(double[] figures, IEnumerable<int> which) =>
        [.. which.Where(i => double.IsFinite(figures[i])).Select(i => new FigureReading(i, figures[i] + book.Meter(i, figures[i]) * NormalLaw.Quantile(RandomBits.Share(noise.At(drawn++)))))];

    public string Row(string module) =>
        string.Create(CultureInfo.InvariantCulture, $"| {module} | {book.Count} ({book.Unsolved} unsolved) | {Visible.Count} | {read.Length} | {Faults} | {Share(Ranks.Count(r => r.Own == 1))} / {Share(Ranks.Count(r => r.Alike == 1))} | {Share(Ranks.Count(r => r.Own is 1 or 2 or 3))} / {Share(Ranks.Count(r => r.Alike is 1 or 2 or 3))} | {Share(Later.Count(r => r.Own == 1))} / {Share(Later.Count(r => r.Alike == 1))} | {Share(Later.Count(r => r.Own is 1 or 2 or 3))} / {Share(Later.Count(r => r.Alike is 1 or 2 or 3))} | {Share(RightPart)} / {Share(PartOfThree)} | {Missed} | {SoundKept} of {Sound} | {Hidden} ({HiddenClaimed} claimed) |");

    public const string Head = "| module | faults in the book | seen by these readings | figures read | trials | true first / or alike | in three / or alike | after three more: first / or alike | in three / or alike | right part first / in three | not claimed | sound units kept | hidden faults drawn |\n|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|";

    public string Confusions()
    {
        StringBuilder text = new();
        foreach (((FaultKind True, FaultKind Taken) pair, int count) in Confused.OrderByDescending(one => one.Value).ThenBy(one => one.Key))
            text.Append(CultureInfo.InvariantCulture, $"{pair.True} taken for {pair.Taken}: {count}\n");
        return text.ToString();
    }

    private string Share(int count) => Faults == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{100.0 * count / Faults:0.0} %");
}
