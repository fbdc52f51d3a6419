using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;

namespace Consort.Engine.Response;

/// <summary>Moments of a run in which an oscillator is led.</summary>
/// <param name="Period">Of the leading frequency at the run's end, s.</param>
/// <param name="Own">Counted crossings of the led oscillator, s.</param>
/// <param name="Times">Of the last leading period, s; empty when it was not kept.</param>
/// <param name="Volts">The output there.</param>
internal sealed record SyncRun(double Period, double[] Own, double[] Times, double[] Volts)
{
    // Three periods that differ together by less than this share from three leading ones are the same, 0.17 cent; one alone
    // may differ by more, since steps leave half a millivolt of what a pulse does.
    private const double Same = 1e-4;
    private const double Scatter = 5e-4;
    private const int Watched = 6; // leading periods

    // So often it is counted in a leading period.
    private int Each => Own.Length > 0 ? (int)Math.Round(Own.Count(time => time > Own[^1] - Watched * Period) / (double)Watched) : 0;

    /// <summary>True when it departs from the leading period less and less, as one does that a pulse moves only part of the way.</summary>
    public bool Nears
    {
        get
        {
            int three = 3 * Each;
            return three > 0 && Own.Length > 2 * three && Math.Abs(Own[^1] - Own[^(three + 1)] - 3 * Period) < 0.8 * Math.Abs(Own[^(three + 1)] - Own[^(2 * three + 1)] - 3 * Period);
        }
    }

    /// <summary>True when the led one repeats with every leading period.</summary>
    public bool IsCaught
    {
        get
        {
            int each = Each;
            if (each == 0 || Own.Length <= 3 * each || Math.Abs((Own[^1] - Own[^(3 * each + 1)]) / (3 * Period) - 1) > Same)
                return false;
            for (int i = Own.Length - 3 * each; i < Own.Length; i++)
                if (i < each || Math.Abs((Own[i] - Own[i - each]) / Period - 1) > Scatter)
                    return false;
            return true;
        }
    }
}

/// <summary>A frequency that leads an oscillator in the circuit in motion: its lead's own resets, the lead's timing capacitor
/// made smaller or larger; or pulses plugged into a jack.</summary>
internal sealed class SyncMaster
{
    /// <summary>Pulses at a jack: from 0 V to this, V.</summary>
    public const double PulseVolts = 5;

    /// <summary>How long a pulse lasts, s.</summary>
    public const double PulseSeconds = 10e-6;

    private const double PulseRise = 0.5e-6;
    private const int Cycles = 14; // of the slower of the two; as many again while it still draws nearer
    private const int MostCycles = 56;
    private const double Points = 400;

    // A run must not be told to end a rounding away from a pulse's corner: no step is that short. So it ends between two, and
    // what is shown begins some fiftieth of a period before one.
    private const double Aside = 0.3;
    private const double ShownBefore = 0.0213; // and no whole number of the grid's steps

    private readonly PlayedVoice voice;
    private readonly Oscillator led;
    private readonly Oscillator? lead;
    private readonly Channel output;
    private readonly double volts;
    private readonly double capacitor;
    private double anchor; // a moment at which the led one is counted by itself, s

    private SyncMaster(PlayedVoice voice, Oscillator led, Oscillator? lead, Channel output, double volts)
    {
        (this.voice, this.led, this.lead, this.output, this.volts) = (voice, led, lead, output, volts);
        capacitor = lead is null ? 0 : voice.Circuit[lead.TimingCapacitor, "value"];
    }

    /// <summary>Makes it ready.</summary>
    /// <param name="ready">Trimmed; it is left alone.</param>
    /// <param name="oscillator">The led one.</param>
    /// <param name="lead">Its lead; null: pulses at the jack.</param>
    /// <param name="jack">The jack; null: by ribbon.</param>
    /// <param name="label">Label of the output that is looked at.</param>
    /// <param name="ways">Selectors moved: part of the voice to way.</param>
    public static (SyncMaster? Master, SolveFailure? Failure) Of(PlayedVoice ready, string oscillator, string? lead, Drive? jack, string label, IEnumerable<(string Part, int Way)> ways, double volts)
    {
        Voice around = Surroundings.Of(ready.Voice, oscillator);
        (PlayedVoice? voice, SolveFailure? failure) = DrivenOscillator.Wired(ready, jack, around);
        if (voice is null)
            return (null, failure);
        foreach ((string part, int way) in ways)
            voice.Circuit[part, "value"] = way;
        (ImmutableArray<Channel> channels, _) = Channel.Find(voice.Voice, voice.Circuit, [$"{oscillator}/{label}"]);
        Oscillator? leading = lead is null ? null : voice.Oscillators.First(one => one.Name == lead);
        SyncMaster master = new(voice, voice.Oscillators.First(one => one.Name == oscillator), leading, channels[0], volts);
        return lead is null && master.Anchor() is { } broken ? (null, broken) : (master, null);
    }

    /// <summary>Where in its own period the led one stands when pulses begin, a share of it after it is counted. One that is
    /// caught only near a turn might slide for dozens of periods until it stands there.</summary>
    public double Begins { get; set; }

    /// <summary>Places to try for <see cref="Begins"/>: a saw is caught where it is counted, a triangle a quarter from there;
    /// just behind, so that pulses that come too often reach the place from the side on which they do nothing yet. A lead on
    /// a ribbon has its own course.</summary>
    public ReadOnlySpan<double> Beginnings => lead is null ? [0.001, 0.251, 0.501, 0.751] : [0];

    private SolveFailure? Anchor()
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return failure;
        Transient run = new(voice.Circuit, voice.Accuracy, [led.Probe]);
        run.Start(state.X);
        double end = PlayedVoice.MostPeriods / led.IdealHertz(volts);
        while (run.Time < end && run.Crossings.Count < 2)
            if (run.Step(end) is { } broken)
                return broken;
        anchor = run.Crossings.Count > 0 ? run.Crossings[^1].Time : run.Time;
        return null;
    }

    /// <summary>Leads it by about a frequency, Hz.</summary>
    /// <param name="keeps">True to keep the output's last period.</param>
    public (SyncRun? Run, SolveFailure? Failure) Lead(double hertz, double own, bool keeps = false)
    {
        double begin = anchor + (1 + Begins) / own;
        SetSource(hertz, begin);
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, failure);
        Transient run = new(voice.Circuit, Accuracy.Default, lead is null ? [led.Probe] : [led.Probe, lead.Probe]);
        run.Start(state.X);
        for (int cycles = 1; ; cycles++)
        {
            voice.Cancel.ThrowIfCancellationRequested();
            double end = begin + (cycles + Aside) / Math.Min(hertz, own);
            if (run.RunTo(end) is { } broken)
                return (null, broken);
            if (cycles % Cycles != 0)
                continue;
            double[] leading = Times(run, 1, end);
            double period = lead is null ? 1 / hertz : leading.Length > 4 ? (leading[^1] - leading[^4]) / 3 : double.NaN;
            SyncRun seen = new(period, Times(run, 0, end), [], []);
            if (cycles < MostCycles && seen is { IsCaught: false, Nears: true })
                continue;
            return keeps ? Keep(run, seen, lead is null ? begin : leading[^1]) : (seen, null);
        }
    }

    private static double[] Times(Transient run, int probe, double end) => [.. run.Crossings.Where(crossing => crossing.Probe == probe && crossing.Time <= end).Select(crossing => crossing.Time)];

    private void SetSource(double hertz, double begin)
    {
        if (lead is not null)
        {
            voice.Circuit[lead.TimingCapacitor, "value"] = capacitor * lead.IdealHertz(volts) / hertz;
            return;
        }
        string source = $"{Drive.Source}/V";
        foreach ((string word, double value) in ((string, double)[])[("before", 0), ("value", PulseVolts), ("starts", begin), ("rise", PulseRise), ("lasts", PulseSeconds), ("every", 1 / hertz)])
            voice.Circuit[source, word] = value;
    }

    // One leading period from just before one of its resets or pulses on, at the run's own steps and an even grid.
    private (SyncRun? Run, SolveFailure? Failure) Keep(Transient run, SyncRun seen, double reset)
    {
        double period = seen.Period;
        List<(double Time, double Volts)> kept = [];
        double start = reset + period * (Math.Ceiling((run.Time - reset) / period) + 1 - ShownBefore);
        if (run.RunTo(start) is { } unreached)
            return (null, unreached);
        kept.Add((start, output.Volts(run.X)));
        run.Accepted = (time, x) => kept.Add((time, output.Volts(x)));
        for (int i = 1; i <= Points; i++)
            if (run.RunTo(start + period * i / Points) is { } broken)
                return (null, broken);
        run.Accepted = null;
        return (seen with { Times = [.. kept.Select(point => point.Time)], Volts = [.. kept.Select(point => point.Volts)] }, null);
    }
}
