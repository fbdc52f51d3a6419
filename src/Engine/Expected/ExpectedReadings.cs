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
    private const int Builds = 100;
    private const ulong Seed = 1;
    private const double StillVolts = 20e-3; // rms about the mean: less is no oscillation but its echo, and spikes of its edges

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
        Ribbon? ribbon = voice.Ribbons.FirstOrDefault(ribbon => ribbon.To.Any(to => to.Owner == member.Name));
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
        spread.Draw(stock, Builds, Seed, motion is null ? [] : [.. motion.Traces.Take(places.Length).Select(trace => trace.Reading.Levels)]);
        ImmutableArray<TestPoint> points = [.. places.Select((place, i) => Point(place, motion?.Traces[i].Reading, spread.Volts[i])).OrderBy(point => point.Moves)];
        double[]? means = motion is null ? null : [.. spread.Feeds.Select((feed, i) => motion.Traces[places.Length + i].Reading.Mean / feed.Ohms)];
        return (new(member.Module, lead?.Name, spread.Rails(means), points, motion is null ? null : Outputs(motion, member.Module, places), spread.Builds), null);
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

    private static (ScopeRecord? Record, SolveFailure? Failure) Motion(PlayedVoice played, Member member, (string Net, string Touch)[] places, IEnumerable<Feed> feeds, CancellationToken cancel)
    {
        (ImmutableArray<Channel> channels, _) = Channel.Find(played.Voice, played.Circuit, places.Select(place => MemberParts.Net(member.Name, place.Net)));
        string counted = MemberParts.Net(member.Name, member.Module.Pitch?.Net ?? places[0].Net);
        Channel trigger = Channel.Find(played.Voice, played.Circuit, [counted]).Channels[0];
        return ScopeRun.Take(played.Twin(Accuracy.Default), [.. channels, .. feeds.Select(feed => new Channel(feed.Wire, feed.From, feed.To))], trigger, new(0), cancel: cancel);
    }

    private static TestPoint Point((string Net, string Touch) place, WaveReading? reading, (double Design, double Least, double Most) still) =>
        reading is not null && Moves(reading, still.Design)
            ? new(place.Net, place.Touch, reading.Mean, reading.Levels.Lowest, reading.Levels.Highest, reading.Hertz, true)
            : new(place.Net, place.Touch, still.Design, still.Least, still.Most, double.NaN, false) { Spikes = Spiked(reading) };

    private static bool Moves(WaveReading reading, double rest) =>
        Math.Sqrt(Math.Max(0, (reading.Rms * reading.Rms) - (reading.Mean * reading.Mean))) > StillVolts || Math.Abs(reading.Mean - rest) > StillVolts;

    private static (double Lowest, double Highest)? Spiked(WaveReading? reading) =>
        reading is not null && reading.PeakToPeak > 5 * StillVolts ? (reading.Levels.Lowest, reading.Levels.Highest) : null;

    private static ScopeRecord? Outputs(ScopeRecord motion, Module module, (string Net, string Touch)[] places)
    {
        HashSet<string> outputs = [.. module.Circuit.Where(part => part.Kind.Word == "jack" && part.Texts["value"] == "output").Select(part => part.NetAt("tip")!)];
        ImmutableArray<Trace> traces = [.. motion.Traces.Take(places.Length).Where((trace, i) => outputs.Contains(places[i].Net) && trace.Reading.PeakToPeak > StillVolts)];
        return traces.IsEmpty ? null : motion with { Traces = traces };
    }
}
