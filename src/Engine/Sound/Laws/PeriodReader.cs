using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;

namespace Consort.Engine.Sound.Laws;

/// <summary>One steady period of an oscillator.</summary>
/// <param name="Hertz">Its frequency; NaN when it does not oscillate.</param>
/// <param name="Times">Moments of the run's own steps and of an even grid, from one counted crossing to the next, s.</param>
/// <param name="Volts">Of each channel at those moments.</param>
public sealed record SteadyPeriod(double Hertz, double[] Times, ImmutableArray<double[]> Volts);

/// <summary>Takes one steady period of an oscillator's outputs from its full circuit.</summary>
public sealed class PeriodReader
{
    private readonly SoloOscillator solo;
    private readonly ImmutableArray<Channel> channels;

    /// <summary>For channels of a prepared oscillator.</summary>
    public PeriodReader(PlayedVoice voice, SoloOscillator solo, IEnumerable<string> names)
    {
        this.solo = solo;
        (channels, _) = Channel.Find(voice.Voice, solo.Circuit, names);
    }

    /// <summary>How many ideal periods it is waited for four counted ones.</summary>
    public double Patience { get; init; } = PlayedVoice.MostPeriods;

    /// <summary>The period at a keyboard voltage.</summary>
    public (SteadyPeriod? Period, SolveFailure? Failure) At(double volts)
    {
        (double[]? x, SolveFailure? failure) = solo.Start(volts);
        if (x is null)
            return (null, failure);
        double ideal = 1 / solo.Oscillator.IdealHertz(volts);
        double end = Patience * ideal;
        Transient run = solo.Run(Accuracy.Default);
        PeriodCount count = new();
        run.Start(x);
        int seen = 0;
        while (run.Time < end && !count.IsDone)
        {
            if (run.Step(end) is { } broken)
                return (null, broken);
            for (; seen < run.Crossings.Count; seen++)
                count.Add(run.Crossings[seen].Time);
        }
        return count.IsDone ? PeriodRecorder.Record(run, 0, count.Period, channels) : (new(double.NaN, [], []), null);
    }
}
