using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Laws;

/// <summary>
/// What the lead's resets do to the other oscillators, from the whole voice in motion. The lead is moved by its timing
/// capacitor, so that it resets when another stands at a known phase; the least phase at which the other lets itself be reset
/// is found by halving. It goes on as after a reset of its own.
/// </summary>
public sealed class SyncReader(PlayedVoice voice, double volts)
{
    // Phase that is tried first: nearer to a whole period a free oscillator may seem to follow.
    private const double Nearest = 0.97;
    private const double Follows = 2e-4; // of the lead's period
    private const double Lowest = 0.06; // one that is pulled this early is taken as pulled at any phase
    private const int Halvings = 8;
    private const int Periods = 8;
    private const int Judged = 4; // periods of the lead, the last ones

    // A lead of one period and a share of the other's comes to every phase above the share in 1/(1 - share) periods; one of a
    // share alone begins above it. But of the short ramps that the latter leaves, those below the counted level would be missed.
    private const double Slower = 0.75;

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

    // Whether another does in every period of the lead what it did in the one before, when by itself it would stand
    // further on each time by that share of its own. Its counted crossings may be one or two in each: which of its ramps are high
    // enough to be counted is the circuit's affair.
    private (bool? Pulled, SolveFailure? Failure) IsPulled(int other, double share)
    {
        string capacitor = voice.Oscillators[0].TimingCapacitor;
        double own = voice.Circuit[capacitor, "value"];
        double apart = Math.Pow(2, (voice.Oscillators[other].Member.StandsCents - voice.Oscillators[0].Member.StandsCents) / 1200);
        double periods = share > Slower ? share : 1 + share;
        voice.Circuit[capacitor, "value"] = own * periods / apart;
        (double[] lead, double[] follower, SolveFailure? failure) = Run(other, voice.Oscillators[0].IdealHertz(volts) * apart / periods);
        voice.Circuit[capacitor, "value"] = own;
        return failure is not null ? (null, failure) : (Repeats(follower, Mean(lead)), null);
    }

    private static bool Repeats(double[] times, double period)
    {
        if (times.Length < Judged)
            return false;
        double[] settled = [.. times.Where(time => time >= times[^1] - (Judged * period))];
        return settled.Length >= Judged
            && settled.Where(time => time <= times[^1] - (1 - Follows) * period).All(time => settled.Any(later => Math.Abs(later - time - period) < Follows * period));
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
