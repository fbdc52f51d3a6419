using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;

namespace Consort.Engine.Scope;

/// <summary>Takes a sweep of a voice: the whole circuit in time, every oscillator on the shared supply and link.</summary>
public sealed class ScopeRun
{
    // Before the trigger, divisions.
    private const double Before = 1;

    // Points of the picture's width, and of the fastest oscillator's period for the readings.
    private const int Across = 1500;
    private const int PerPeriod = 300;

    private const double SettlePeriods = 4;
    private const double ReadPeriods = 4;
    private const double PatiencePeriods = 2.5; // for the trigger

    private readonly PlayedVoice voice;
    private readonly ScopeSettings settings;
    private readonly ImmutableArray<Channel> channels;
    private readonly Channel triggerChannel;
    private readonly double slowest;
    private readonly double fastest;
    private readonly List<double> times = [];
    private readonly List<double>[] volts;
    private readonly List<double> watched = [];

    private ScopeRun(PlayedVoice voice, ImmutableArray<Channel> channels, Channel triggerChannel, ScopeSettings settings)
    {
        (this.voice, this.channels, this.triggerChannel, this.settings) = (voice, channels, triggerChannel, settings);
        double[] periods = [.. voice.Oscillators.Select(oscillator => 1 / oscillator.IdealHertz(settings.Play))];
        slowest = periods.Length > 0 ? periods.Max() : 1e-3;
        fastest = periods.Length > 0 ? periods.Min() : 1e-3;
        volts = [.. channels.Select(_ => new List<double>())];
    }

    /// <summary>Takes the sweep.</summary>
    /// <param name="voice">Prepared.</param>
    /// <param name="channels">What is shown.</param>
    /// <param name="trigger">What the trigger looks at.</param>
    /// <param name="settings">How.</param>
    /// <param name="progress">Told the stage and how much of the run is done.</param>
    /// <param name="cancel">Looked at between steps.</param>
    public static (ScopeRecord? Record, SolveFailure? Failure) Take(
        PlayedVoice voice,
        ImmutableArray<Channel> channels,
        Channel trigger,
        ScopeSettings settings,
        IProgress<(string Stage, double Done)>? progress = null,
        CancellationToken cancel = default
    ) => new ScopeRun(voice, channels, trigger, settings).Take(progress, cancel);

    private (ScopeRecord?, SolveFailure?) Take(IProgress<(string, double)>? progress, CancellationToken cancel)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(settings.Play);
        if (state is null)
            return (null, failure);
        double division = settings.SecondsPerDivision ?? Divisions.AtLeast(3 * slowest / ScopeSettings.Divisions);
        double window = ScopeSettings.Divisions * division;
        double settle = settings.Settle ?? SettlePeriods * slowest;
        Transient run = new(voice.Circuit, voice.Accuracy);
        run.Start(state.X);
        double end = settle + PatiencePeriods * slowest + Math.Max(window, ReadPeriods * slowest);

        SolveFailure? Go(double until, double grid, Func<bool>? enough = null)
        {
            while (run.Time < until && !(enough?.Invoke() ?? false))
            {
                cancel.ThrowIfCancellationRequested();
                progress?.Report(("sweeping", run.Time / end));
                double next = Math.Min(until, grid * Math.Ceiling((run.Time + 1e-6 * grid) / grid));
                if (run.RunTo(next) is { } broken)
                    return broken;
            }
            return null;
        }

        double coarse = fastest / PerPeriod;
        if (Go(Math.Max(0, settle - 1.5 * slowest), coarse) is { } unsettled)
            return (null, unsettled);
        run.Accepted = Record;
        if (Go(settle, coarse) is { } unready)
            return (null, unready);
        double level = settings.Trigger?.Level ?? Middle();
        int first = times.Count;
        double? moment = null;
        if (Go(settle + Before * division + PatiencePeriods * slowest, coarse, () => (moment = Crossing(level, ref first, settle + Before * division)) is not null) is { } lost)
            return (null, lost);
        double zero = moment ?? run.Time;
        double fine = Math.Min(coarse, window / Across);
        if (Go(zero + window - Before * division, fine) is { } broken)
            return (null, broken);
        if (Go(settle + ReadPeriods * slowest, coarse) is { } cut)
            return (null, cut);
        return (Result(zero, division, level, moment is not null, run.Steps), null);
    }

    private void Record(double time, double[] x)
    {
        times.Add(time);
        watched.Add(triggerChannel.Volts(x));
        for (int i = 0; i < channels.Length; i++)
            volts[i].Add(channels[i].Volts(x));
    }

    // Rounded to a plain number: the middle of a wave with spikes is no more its middle than a tenth beside it.
    private double Middle()
    {
        if (watched.Count == 0)
            return 0;
        (double low, double high) = (watched.Min(), watched.Max());
        double step = Divisions.AtLeast(Math.Max(1e-9, (high - low) / 20));
        return step * Math.Round(0.5 * (low + high) / step);
    }

    private double? Crossing(double level, ref int first, double from)
    {
        double way = settings.Trigger?.Rising ?? true ? 1 : -1;
        for (; first < times.Count; first++)
        {
            if (first == 0 || times[first] < from)
                continue;
            double a = way * (watched[first - 1] - level);
            double b = way * (watched[first] - level);
            if (a < 0 && b >= 0)
                return times[first - 1] + (times[first] - times[first - 1]) * a / (a - b);
        }
        return null;
    }

    private ScopeRecord Result(double zero, double division, double level, bool triggered, long steps)
    {
        double[] own = [.. times];
        ImmutableArray<Trace>.Builder traces = ImmutableArray.CreateBuilder<Trace>();
        for (int i = 0; i < channels.Length; i++)
        {
            double[] wave = [.. volts[i]];
            WaveReading reading = WaveReading.Of(own, wave);
            traces.Add(new(channels[i].Name, wave, Lane.Holding(reading.Levels.Lowest, reading.Levels.Highest, settings.VoltsPerDivision), reading));
        }
        string way = settings.Trigger?.Rising ?? true ? "rising" : "falling";
        return new(
            voice.Voice.Name,
            voice.Circuit.Temperature,
            settings.Play,
            [.. own.Select(time => time - zero)],
            -Before * division,
            division,
            traces.ToImmutable(),
            $"{way} through {Figures.Si(level, "V")} on {triggerChannel.Name}",
            triggered,
            steps
        );
    }
}
