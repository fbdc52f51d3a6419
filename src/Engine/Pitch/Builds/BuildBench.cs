using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Trimming;

namespace Consort.Engine.Pitch.Builds;

/// <summary>A bench for one thread: makes as many builds of a voice as there are lanes, trims them, and reads them at every
/// temperature and note.</summary>
internal sealed class BuildBench<T>
    where T : struct, ILanes<T>
{
    private readonly BuildReader<T>[] readers;
    private readonly BuildTrimmer<T>[] trimmers;
    private readonly T[] departures;
    private readonly T[] positions;
    private readonly double[] cents;
    private readonly double[] behind; // cents with the lag
    private readonly int notes;
    private readonly int temperatures;
    private VoiceBuilds builds;
    private Lag? lag;

    public BuildBench(VoiceBuilds builds)
    {
        this.builds = builds;
        readers = [.. builds.Laws.Select((_, o) => builds.Reader<T>(o))];
        trimmers = [.. builds.Sheets.Select((sheet, o) => new BuildTrimmer<T>(sheet, readers[o]))];
        departures = new T[builds.Draws.Parameters.Length];
        positions = new T[builds.Paths.Trimmers.Length];
        (notes, temperatures) = (builds.Volts.Length, builds.Kelvins.Length);
        cents = new double[readers.Length * temperatures * notes * T.Count];
        behind = new double[readers.Length * notes * T.Count];
        lag = Lag.Of(builds);
    }

    /// <summary>How each oscillator was trimmed.</summary>
    public IReadOnlyList<BuildTrimmer<T>> Trimmers => trimmers;

    /// <summary>Makes builds of an edit of its voice from now on.</summary>
    /// <param name="edit">By the laws of the voice that the bench was made for.</param>
    public void Serve(VoiceBuilds edit)
    {
        builds = edit;
        lag = Lag.Of(edit);
        for (int o = 0; o < readers.Length; o++)
            readers[o].Ask(edit.Laws[o]);
    }

    /// <summary>Pitch error of a build after trimming, cents.</summary>
    /// <param name="oscillator">Which oscillator.</param>
    /// <param name="k">Which temperature.</param>
    /// <param name="n">Which note.</param>
    /// <param name="lane">Which build.</param>
    public double Cents(int oscillator, int k, int n, int lane) => cents[((oscillator * temperatures + k) * notes + n) * T.Count + lane];

    /// <summary>True when a voice has something that lags behind while it warms up.</summary>
    public bool Lags => lag is not null;

    /// <summary>By how much the lag moves a note of a trimmed build at the bench's temperature, cents, once it was read by
    /// <see cref="WarmUp"/>.</summary>
    /// <param name="oscillator">Which oscillator.</param>
    /// <param name="n">Which note.</param>
    /// <param name="lane">Which build.</param>
    public double Moved(int oscillator, int n, int lane) => behind[(oscillator * notes + n) * T.Count + lane] - Cents(oscillator, 0, n, lane);

    /// <summary>Where all trimmers of the voice stand in a build, 0 to 1.</summary>
    public double[] PositionsOf(int lane)
    {
        double[] stand = new double[positions.Length];
        for (int o = 0; o < trimmers.Length; o++)
            for (int step = 0; step < builds.Sheets[o].Count; step++)
                stand[builds.Sheets[o].Trimmers[step]] = trimmers[o].Position(lane, step);
        return stand;
    }

    /// <summary>Makes, trims and reads neighbouring builds at all temperatures.</summary>
    /// <param name="drawn">Their departures: entry p·stride + build.</param>
    /// <param name="stride">Builds in that block.</param>
    /// <param name="first">The first of them in the block.</param>
    /// <param name="isExact">Sets trimmers as exactly as can be read, finer than a hand can.</param>
    public void Run(ReadOnlySpan<double> drawn, int stride, int first, bool isExact = false)
    {
        Begin(drawn, stride, first, isExact);
        Finish();
    }

    /// <summary>Makes and trims neighbouring builds, and reads them at the bench's temperature.</summary>
    public void Begin(ReadOnlySpan<double> drawn, int stride, int first, bool isExact = false)
    {
        for (int p = 0; p < departures.Length; p++)
            departures[p] = T.From(drawn.Slice(p * stride + first, T.Count));
        Trim(isExact);
        ReadAt(0);
    }

    /// <summary>Reads the builds that were begun at the other temperatures.</summary>
    public void Finish()
    {
        for (int k = 1; k < temperatures; k++)
            ReadAt(k);
    }

    private void ReadAt(int k)
    {
        for (int o = 0; o < readers.Length; o++)
            Read(o, k, cents.AsSpan((o * temperatures + k) * notes * T.Count));
    }

    /// <summary>Reads the builds of the last run once more, with the lag if there is one.</summary>
    public void WarmUp()
    {
        if (lag is null)
            return;
        lag.Apply(departures);
        for (int o = 0; o < readers.Length; o++)
        {
            readers[o].Take(departures);
            Read(o, 0, behind.AsSpan(o * notes * T.Count));
        }
    }

    // At the bench's temperature; a lead's trimmers reach its followers, so it comes first.
    private void Trim(bool isExact)
    {
        for (int t = 0; t < positions.Length; t++)
            positions[t] = T.Of(builds.Paths.Trimmers[t].Place.Bank.Numbers("position")[builds.Paths.Trimmers[t].Place.Index]);
        foreach (int o in builds.Order)
        {
            readers[o].Take(departures);
            readers[o].SetTemperature(0);
            trimmers[o].Run(positions, isExact);
        }
    }

    private void Read(int o, int k, Span<double> into)
    {
        readers[o].SetTemperature(k);
        readers[o].Turn(positions);
        for (int n = 0; n < notes; n++)
            T.Store(readers[o].Cents(n), into.Slice(n * T.Count, T.Count));
    }
}
