using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Laws;

/// <summary>
/// What the lead's resets do to the other oscillators, from the whole voice in motion. The lead is made faster by a smaller
/// timing capacitor, so that it resets when another stands at a known phase; the least phase at which the other lets itself
/// be reset is found by halving. It goes on as after a reset of its own.
/// </summary>
public sealed class SyncReader(PlayedVoice voice, double volts)
{
    // Phase that is tried first: nearer to a whole period a free oscillator may seem to follow.
    private const double Nearest = 0.97;
    private const double Follows = 2e-4;
    private const double Lowest = 0.06; // one that is pulled this early is taken as pulled at any phase
    private const int Halvings = 8;
    private const int Periods = 8;

    /// <summary>A law for each oscillator after the first; null for one that goes its own way.</summary>
    public (ImmutableArray<SyncLaw?> Laws, SolveFailure? Failure) Read()
    {
        ImmutableArray<SyncLaw?>.Builder laws = ImmutableArray.CreateBuilder<SyncLaw?>();
        for (int i = 1; i < voice.Oscillators.Length; i++)
        {
            (SyncLaw? law, SolveFailure? failure) = Read(i);
            if (failure is not null)
                return ([], failure);
            laws.Add(law);
        }
        return (laws.ToImmutable(), null);
    }

    private (SyncLaw? Law, SolveFailure? Failure) Read(int other)
    {
        (bool? pulled, SolveFailure? failure) = IsPulled(other, Nearest);
        if (pulled is not true)
            return (null, failure);
        (double low, double high) = (0, Nearest);
        for (int pass = 0; pass < Halvings && high > Lowest; pass++)
        {
            double tried = Math.Max(Lowest, 0.5 * (low + high));
            (pulled, failure) = IsPulled(other, tried);
            if (pulled is not { } follows)
                return (null, failure);
            (low, high) = follows ? (low, tried) : (tried, high);
        }
        return (new SyncLaw(high <= Lowest ? 0 : high, 0), null);
    }

    // Whether another has exactly the lead's frequency when by itself it would have that share of it.
    private (bool? Pulled, SolveFailure? Failure) IsPulled(int other, double share)
    {
        string capacitor = voice.Oscillators[0].TimingCapacitor;
        double own = voice.Circuit[capacitor, "value"];
        double apart = Math.Pow(2, (voice.Oscillators[other].Member.StandsCents - voice.Oscillators[0].Member.StandsCents) / 1200);
        voice.Circuit[capacitor, "value"] = own * share / apart;
        (double[] lead, double[] follower, SolveFailure? failure) = Run(other, voice.Oscillators[0].IdealHertz(volts) * apart / share);
        voice.Circuit[capacitor, "value"] = own;
        return failure is not null ? (null, failure) : (follower.Length > 4 && Math.Abs(Mean(follower) / Mean(lead) - 1) < Follows, null);
    }

    // Over the last half of what was counted.
    private static double Mean(double[] times)
    {
        int from = times.Length / 2;
        return times.Length > 2 ? (times[^1] - times[from]) / (times.Length - 1 - from) : double.NaN;
    }

    private (double[] Lead, double[] Follower, SolveFailure? Failure) Run(int other, double hertz)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return ([], [], failure);
        Transient run = new(voice.Circuit, voice.Accuracy, [voice.Oscillators[0].Probe, voice.Oscillators[other].Probe]);
        run.Start(state.X);
        if (run.RunTo((Periods + 1) / hertz) is { } broken)
            return ([], [], broken);
        double[] Times(int probe) => [.. run.Crossings.Where(crossing => crossing.Probe == probe).Select(crossing => crossing.Time)];
        return (Times(0), Times(1), null);
    }
}
