using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Chain;

/// <summary>
/// How many followers a lead can carry. Each follower is taken as trimmed when it was the last on the link; what counts
/// is how far those that were trimmed before it move when it is plugged in, and what the link's buffers, ground and
/// rails do. From operating points of the complete circuits of all members, and small signals for stability; how well
/// pitch by timing current agrees with transients is measured in every proof.
/// </summary>
public static class ChainLimit
{
    /// <summary>Peaking that a link buffer may have: about 30 degrees of phase margin (Franco, Design with Operational
    /// Amplifiers and Analog ICs, ch. 8).</summary>
    public const double PeakingLimitDb = 6;

    /// <summary>The study always goes at least this far.</summary>
    public const int AtLeast = 16;

    /// <summary>Studies the first link of a trimmed voice; null failure on success.</summary>
    /// <param name="trimmed">Trimmers as they stand.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="cancel">Ends it before the next reading.</param>
    public static (ChainStudy? Study, SolveFailure? Failure) Run(Voice trimmed, int threads, CancellationToken cancel = default)
    {
        double[] notes = Notes(trimmed);
        int most = Math.Max(AtLeast, (trimmed.Limits.Followers ?? 0) + 4);
        ChainProbe probe = new(trimmed, notes, cancel);
        (ChainState? State, SolveFailure? Failure)[] read = new (ChainState?, SolveFailure?)[most + 1];
        // The longest first, so that no thread is left with it at the end.
        ParallelWork.Each(most + 1, threads, i => read[most - i] = probe.Read(most - i), cancel);
        if (read.FirstOrDefault(r => r.Failure is not null).Failure is { } failure)
            return (null, failure);
        ChainState[] states = [.. read.Select(r => r.State!)];
        ImmutableArray<ChainPoint> points = [.. states.Select(state => Judge(state, states, trimmed.Limits))];
        int largest = points.TakeWhile(point => point.Passed).Count() - 1;
        ChainPoint? failing = points.FirstOrDefault(point => !point.Passed);
        string lead = trimmed.Ribbons[0].From.Owner;
        return (
            new(
                lead,
                points,
                largest,
                failing?.FirstFailure,
                failing is null ? null : ChainMend.For(probe, states, failing, notes)
            ),
            null
        );
    }

    /// <summary>The notes at which a link is read: the ends and the middle of what the keyboard can play.</summary>
    public static double[] Notes(Voice voice)
    {
        Player? keyboard = voice.Players.FirstOrDefault(player => player.IsPitch);
        double low = keyboard?.Low ?? 0;
        double high = keyboard?.High ?? 8;
        return [low, 0.5 * (low + high), high];
    }

    private static ChainPoint Judge(ChainState state, ChainState[] all, Limits limits)
    {
        (double worst, string follower) = WorstShift(state, all);
        string? failure = FirstFailure(state, worst, follower, limits);
        return new(
            state.Followers,
            worst,
            follower,
            state.DriveLeft.Amps,
            state.Stability.Loop.PeakingDb,
            state.GroundOffset,
            state.RailDrop,
            failure is null,
            failure
        );
    }

    /// <summary>How far any follower stands from where it stood when it was the last on the link and was trimmed.</summary>
    internal static (double Cents, string Follower) WorstShift(ChainState state, ChainState[] all)
    {
        (double Cents, string Follower) worst = (0, "");
        for (int i = 0; i < state.Names.Length; i++)
        {
            double[] when = all[i + 1].Cents[i];
            for (int note = 0; note < when.Length; note++)
            {
                double shift = state.Cents[i][note] - when[note];
                if (Math.Abs(shift) > Math.Abs(worst.Cents) || worst.Follower.Length == 0)
                    worst = (shift, state.Names[i]);
            }
        }
        return worst;
    }

    private static string? FirstFailure(ChainState state, double worst, string follower, Limits limits)
    {
        if (state.DriveLeft.Amps < 0)
            return $"{state.DriveLeft.Buffer} is asked for {-1e3 * state.DriveLeft.Amps:F1} mA more than it can give";
        if (double.IsPositiveInfinity(state.Stability.Loop.PeakingDb))
            return $"{state.Stability.Buffer} oscillates into the ribbon near {state.Stability.Loop.AtHertz / 1e3:F0} kHz";
        if (state.Stability.Loop.PeakingDb > PeakingLimitDb)
            return $"{state.Stability.Buffer} rings: {state.Stability.Loop.PeakingDb:F1} dB of peaking, limit {PeakingLimitDb:F0} dB";
        if (Math.Abs(worst) > limits.FollowerCents)
            return $"{follower} has moved {worst:+0.00;-0.00} cents against the lead, limit {limits.FollowerCents:G3}";
        foreach ((string rail, double amps, double limit) in state.RailLoads)
            if (amps > limit)
                return $"the {rail} rail is asked for {amps * 1e3:F0} mA, limit {limit * 1e3:F0} mA";
        if (state.Contact is { } contact && contact.Amps > contact.Rating)
            return $"{contact.Wire} carries {contact.Amps:F2} A, its contact is rated {contact.Rating:G3} A";
        return null;
    }
}
