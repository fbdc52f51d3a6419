using System.Collections.Immutable;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;

namespace Consort.Engine.Expected;

/// <summary>Least and most of a figure over builds, the design among them.</summary>
/// <param name="Least">The one.</param>
/// <param name="Most">The other; NaN both when no build has the figure.</param>
public readonly record struct Band(double Least, double Most)
{
    /// <summary>Of what is a number.</summary>
    internal static Band Of(IEnumerable<double> figures)
    {
        double[] finite = [.. figures.Where(double.IsFinite)];
        return finite.Length == 0 ? new(double.NaN, double.NaN) : new(finite.Min(), finite.Max());
    }
}

/// <summary>How a moving voltage lies over simulated builds, nothing trimmed.</summary>
/// <param name="Lowest">Lowest of a period, V.</param>
/// <param name="Highest">Highest, V.</param>
/// <param name="Mean">Mean, V.</param>
/// <param name="Hertz">Frequency.</param>
public sealed record MovingBands(Band Lowest, Band Highest, Band Mean, Band Hertz)
{
    internal static MovingBands Of(IReadOnlyCollection<WaveReading> readings) =>
        new(
            Band.Of(readings.Select(reading => reading.Levels.Lowest)),
            Band.Of(readings.Select(reading => reading.Levels.Highest)),
            Band.Of(readings.Select(reading => reading.Mean)),
            Band.Of(readings.Select(reading => reading.Hertz))
        );
}

/// <summary>Reads simulated builds in motion: each one's whole circuit in time.</summary>
internal static class MovingSpread
{
    private const double SettlePeriods = 2;
    private const double ReadPeriods = 2.6;
    private const int PerPeriod = 60; // points at least: a sine's top lies within 0.14 % of the highest of them

    // Bands are told to a hundredth of a volt: nets held to a thousandth in every step are enough.
    private static readonly Accuracy Coarse = new(1e-3);

    /// <summary>By channel, the design's own reading included; and how many builds could be read.</summary>
    /// <param name="played">Prepared; its circuit is the design before and after.</param>
    /// <param name="drawn">The builds.</param>
    /// <param name="design">The design's own sweep, of these channels first.</param>
    /// <param name="channels">What is read.</param>
    /// <param name="threads">How many work; the result does not depend on it.</param>
    /// <param name="cancel">Looked at between steps.</param>
    public static (ImmutableArray<MovingBands> Bands, int Builds) Of(PlayedVoice played, DrawnBuilds drawn, ScopeRecord design, ImmutableArray<Channel> channels, int threads, CancellationToken cancel)
    {
        WaveReading[]?[] builds = new WaveReading[drawn.Count][];
        Lock making = new();
        ParallelWork.Each(drawn.Count, threads, build =>
        {
            PlayedVoice twin;
            lock (making)
            {
                drawn.Set(played.Circuit, build);
                twin = played.Twin(Coarse);
                drawn.Reset(played.Circuit);
            }
            builds[build] = Read(twin, channels, cancel);
        }, cancel);
        WaveReading[][] read = [.. builds.OfType<WaveReading[]>()];
        return ([.. channels.Select((_, i) => MovingBands.Of([design.Traces[i].Reading, .. read.Select(build => build[i])]))], read.Length);
    }

    // Null when it cannot be computed: the build then counts for nothing, and the count of builds says so.
    private static WaveReading[]? Read(PlayedVoice voice, ImmutableArray<Channel> channels, CancellationToken cancel)
    {
        (RestState? state, _) = voice.Rest(0);
        if (state is null)
            return null;
        double[] periods = [.. voice.Oscillators.Select(oscillator => 1 / oscillator.IdealHertz(0))];
        double grid = periods.Min() / PerPeriod, settled = SettlePeriods * periods.Max(), end = settled + (ReadPeriods * periods.Max());
        List<double> times = [];
        List<double>[] volts = [.. channels.Select(_ => new List<double>())];
        Transient run = new(voice.Circuit, voice.Accuracy);
        run.Accepted = (time, x) =>
        {
            if (time < settled)
                return;
            times.Add(time);
            for (int i = 0; i < volts.Length; i++)
                volts[i].Add(channels[i].Volts(x));
        };
        run.Start(state.X);
        for (double next = grid; run.Time < end; next += grid)
        {
            cancel.ThrowIfCancellationRequested();
            if (run.RunTo(Math.Min(next, end)) is not null)
                return null;
        }
        double[] own = [.. times];
        return [.. volts.Select(wave => WaveReading.Of(own, wave.ToArray()))];
    }
}
