using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Scope;

namespace Consort.Engine.Expected;

/// <summary>Works out what a module's first power-up shows: currents and standing voltages from the operating point, with
/// the bands of simulated builds; what moves from the circuit in time.</summary>
/// <param name="voice">The voice that the module is of.</param>
/// <param name="stock">The shelf: how its parts spread.</param>
public sealed class ExpectedReadings(Voice voice, Stock stock)
{
    internal const int Builds = 100;
    internal const int MovingBuilds = 24; // one more build in 25 lies below the least of them, and one above the most
    private const ulong Seed = 1;
    private const double StillVolts = 20e-3; // rms about the mean: less is no oscillation but its echo, and spikes of its edges

    /// <summary>How many may work; the result does not depend on it.</summary>
    public int Threads { get; init; } = 1;

    /// <summary>Of every module with a circuit, once each, in panel order.</summary>
    public (ImmutableArray<ExpectedUnit> Units, SolveFailure? Failure) All(CancellationToken cancel = default)
    {
        ImmutableArray<ExpectedUnit>.Builder units = ImmutableArray.CreateBuilder<ExpectedUnit>();
        foreach (Member member in voice.Members.Where(member => member.Module.Sheet is null).DistinctBy(member => member.Module.At.File))
        {
            cancel.ThrowIfCancellationRequested();
            (ExpectedUnit? unit, SolveFailure? failure) = Of(member, cancel);
            if (unit is null)
                return ([], failure);
            units.Add(unit);
        }
        return (units.ToImmutable(), null);
    }

    private (ExpectedUnit? Unit, SolveFailure? Failure) Of(Member member, CancellationToken cancel)
    {
        Ribbon? ribbon = voice.RibbonTo(member.Name);
        Member? lead = ribbon is null ? null : voice.Members.First(other => other.Name == ribbon.From.Owner);
        PlayedVoice played = PlayedVoice.Of(Bench(member, lead, ribbon), cancel);
        bool oscillates = !played.Oscillators.IsEmpty;
        if (oscillates && played.Prepare() is { } unready)
            return (null, unready);
        (RestState? rest, SolveFailure? failure) = played.Rest(0);
        if (rest is null)
            return (null, failure);
        (string Net, string Touch)[] places = [.. TestPlaces.Of(member.Module).Where(place => played.Circuit.Nets.ContainsKey(MemberParts.Net(member.Name, place.Net)))];
        Spread spread = new(played, member, rest.X, [.. places.Select(place => place.Net)]);
        (ScopeRecord? motion, failure) = oscillates ? Motion(played, member, places, spread.Feeds, cancel) : (null, null);
        if (failure is not null)
            return (null, failure);
        spread.Read(new(played.Circuit, stock, Builds, Seed), motion is null ? [] : [.. motion.Traces.Take(places.Length).Select(trace => trace.Reading.Levels)]);
        (ImmutableArray<MovingBands> bands, int moved) = motion is null
            ? ([], 0)
            : MovingSpread.Of(played, new(played.Circuit, stock, MovingBuilds, Seed), motion, Channels(played, member, places), Threads, cancel);
        TestPoint[] all = [.. places.Select((place, i) => Point(place, motion?.Traces[i].Reading, spread.Volts[i], bands.IsEmpty ? null : bands[i]))];
        double[]? means = motion is null ? null : [.. spread.Feeds.Select((feed, i) => motion.Traces[places.Length + i].Reading.Mean / feed.Ohms)];
        (ScopeRecord? outputs, ScopeRecord? inner) = motion is null ? (null, null) : Pictures(motion, member.Module, all);
        return (new(member.Module, lead?.Name, spread.Rails(means), [.. all.OrderBy(point => point.Moves)], outputs, inner, spread.Builds, moved), null);
    }

    // By itself on the voice's own supply, its trims and controls as its file has them, without cords.
    private Voice Bench(Member member, Member? lead, Ribbon? ribbon) =>
        voice with
        {
            Members = [.. (lead is null ? new[] { member } : [lead, member]).Select(one => one with { Set = ImmutableDictionary<string, double>.Empty })],
            Players = [],
            Multiples = [],
            Cords = [],
            Ribbons = ribbon is null ? [] : [ribbon with { To = [ribbon.To.First(to => to.Owner == member.Name)] }],
        };

    private static (ScopeRecord? Record, SolveFailure? Failure) Motion(PlayedVoice played, Member member, (string Net, string Touch)[] places, IEnumerable<Feed> feeds, CancellationToken cancel) =>
        ScopeRun.Take(played.Twin(Accuracy.Default), [.. Channels(played, member, places), .. feeds.Select(feed => new Channel(feed.Wire, feed.From, feed.To))], Trigger(played, member, places), new(0), cancel: cancel);

    private static ImmutableArray<Channel> Channels(PlayedVoice played, Member member, (string Net, string Touch)[] places) =>
        Channel.Find(played.Voice, played.Circuit, places.Select(place => MemberParts.Net(member.Name, place.Net))).Channels;

    private static Channel Trigger(PlayedVoice played, Member member, (string Net, string Touch)[] places) =>
        Channel.Find(played.Voice, played.Circuit, [MemberParts.Net(member.Name, member.Module.Pitch?.Net ?? places[0].Net)]).Channels[0];

    private static TestPoint Point((string Net, string Touch) place, WaveReading? reading, (double Design, double Least, double Most) still, MovingBands? bands) =>
        reading is not null && Moves(reading, still.Design)
            ? new(place.Net, place.Touch, reading.Mean, reading.Levels.Lowest, reading.Levels.Highest, reading.Hertz, true) { Bands = bands }
            : new(place.Net, place.Touch, still.Design, still.Least, still.Most, double.NaN, false) { Spikes = Spiked(reading) };

    private static bool Moves(WaveReading reading, double rest) =>
        Math.Sqrt(Math.Max(0, (reading.Rms * reading.Rms) - (reading.Mean * reading.Mean))) > StillVolts || Math.Abs(reading.Mean - rest) > StillVolts;

    private static (double Lowest, double Highest)? Spiked(WaveReading? reading) =>
        reading is not null && reading.PeakToPeak > 5 * StillVolts ? (reading.Levels.Lowest, reading.Levels.Highest) : null;

    // Output jacks, and the other places that move, in the order in which they are touched.
    private static (ScopeRecord? Outputs, ScopeRecord? Inner) Pictures(ScopeRecord motion, Module module, TestPoint[] points)
    {
        HashSet<string> outputs = [.. module.Circuit.Where(part => part.Kind.Word == "jack" && part.Texts["value"] == "output").Select(part => part.NetAt("tip")!)];
        ScopeRecord? Of(Func<TestPoint, bool> shown)
        {
            ImmutableArray<Trace> traces = [.. points.Select((point, i) => (point, Trace: motion.Traces[i])).Where(pair => shown(pair.point)).Select(pair => pair.Trace)];
            return traces.IsEmpty ? null : motion with { Traces = traces };
        }
        return (Of(point => point.Moves && outputs.Contains(point.Net)), Of(point => point.Moves && !outputs.Contains(point.Net)));
    }
}
