using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;

namespace Consort.Engine.Sound.Laws;

/// <summary>Keeps one period of what channels see, at the run's own steps and an even grid.</summary>
internal static class PeriodRecorder
{
    private const int Grid = 400; // points of a period at least: straight lines between them err by 3e-5 of a sine

    /// <summary>From the crossing at which a run stands to the next one of the same probe.</summary>
    /// <param name="probe">Number of the probe.</param>
    /// <param name="period">About how long it will take, s.</param>
    public static (SteadyPeriod?, SolveFailure?) Record(Transient run, int probe, double period, ImmutableArray<Channel> channels)
    {
        List<double> times = [];
        List<double>[] volts = [.. channels.Select(_ => new List<double>())];
        int seen = run.Crossings.Count;
        double start = run.Time;
        Take(run.Time, run.X);
        run.Accepted = Take;
        for (int i = 1; !IsOver() && i < 4 * Grid; i++)
            while (run.Time < start + period * i / Grid && !IsOver())
                if (run.Step(start + period * i / Grid) is { } broken)
                    return (null, broken);
        run.Accepted = null;
        return (new(1 / (times[^1] - times[0]), [.. times], [.. volts.Select(list => list.ToArray())]), null);

        bool IsOver() => run.Crossings.Count > seen && run.Crossings[^1].Probe == probe;

        void Take(double time, double[] x)
        {
            times.Add(time);
            for (int i = 0; i < channels.Length; i++)
                volts[i].Add(channels[i].Volts(x));
        }
    }

    /// <summary>One period of an oscillator in the whole voice, all others in motion beside it.</summary>
    /// <param name="settling">Periods that are let pass.</param>
    public static (SteadyPeriod?, SolveFailure?) OfWhole(PlayedVoice voice, int oscillator, double volts, ImmutableArray<Channel> channels, int settling)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (null, failure);
        Transient run = new(voice.Circuit, voice.Accuracy, [.. voice.Oscillators.Select(one => one.Probe)]);
        run.Start(state.X);
        double period = 1 / voice.Oscillators[oscillator].IdealHertz(volts);
        double patience = (settling + PlayedVoice.MostPeriods) * period;
        for (int counted = 0; counted < settling; )
        {
            int before = run.Crossings.Count;
            if (run.Step(patience) is { } broken)
                return (null, broken);
            if (run.Time >= patience)
                return (null, new($"{voice.Oscillators[oscillator].Name} does not oscillate", voice.Oscillators[oscillator].Spec.Net, run.Time, 0));
            if (run.Crossings.Count > before && run.Crossings[^1].Probe == oscillator)
                counted++;
        }
        return Record(run, oscillator, period, channels);
    }
}
