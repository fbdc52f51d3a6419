using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Scope;

/// <summary>What is to be seen, in a person's words.</summary>
/// <param name="Show">Jacks or nets; empty: each oscillator's first output.</param>
/// <param name="Set">Controls moved, as <c>lead/P4=30%</c>.</param>
/// <param name="Play">A voltage or a key; null: the middle of the keyboard's range.</param>
/// <param name="SecondsPerDivision">As for <see cref="ScopeSettings"/>.</param>
/// <param name="VoltsPerDivision">The same.</param>
/// <param name="Trigger">As <c>falling through 2.5 V on lead/saw core</c>; null: the first trace rising through its middle.</param>
/// <param name="Settle">As for <see cref="ScopeSettings"/>.</param>
public sealed record ScopeWish(
    ImmutableArray<string> Show,
    ImmutableArray<string> Set,
    string? Play = null,
    double? SecondsPerDivision = null,
    double? VoltsPerDivision = null,
    string? Trigger = null,
    double? Settle = null
)
{
    /// <summary>What is meant by it, or everything that is wrong with its words.</summary>
    public (ScopePlan? Plan, ImmutableArray<WordFault> Faults) Understand(Voice voice)
    {
        (Voice moved, ImmutableArray<WordFault> unmoved) = ControlMoves.Apply(voice, Set);
        List<WordFault> faults = [.. unmoved];
        (double play, WordFault? unplayed) = PlayedKey.Read(voice, Play);
        (Trigger? trigger, WordFault? untriggered) = Trigger is { } words ? Scope.Trigger.Read(words) : (new(), null);
        faults.AddRange(new[] { unplayed, untriggered }.OfType<WordFault>());
        ImmutableArray<string> show = Show.IsEmpty ? Channel.FirstOutputs(voice) : Show;
        if (show.IsEmpty)
            faults.Add(new("the voice has no oscillator with an output jack", "name nets with --show"));
        string[] all = [.. show, .. trigger?.Channel is { } on ? new[] { on } : []];
        (ImmutableArray<Channel> channels, ImmutableArray<WordFault> unknown) = Channel.Find(voice, PlayedVoice.Of(voice).Circuit, all);
        faults.AddRange(unknown);
        if (faults.Count > 0)
            return (null, [.. faults]);
        Channel triggered = trigger!.Channel is null ? channels[0] : channels[^1];
        return (new(voice, moved, channels[..show.Length], triggered, new(play, SecondsPerDivision, VoltsPerDivision, trigger, Settle)), []);
    }
}

/// <summary>A sweep that is ready to be taken.</summary>
/// <param name="Written">The voice as its files have it.</param>
/// <param name="Moved">With its controls moved.</param>
/// <param name="Channels">What is shown.</param>
/// <param name="TriggerChannel">What it is triggered by.</param>
/// <param name="Settings">How it is taken.</param>
public sealed record ScopePlan(Voice Written, Voice Moved, ImmutableArray<Channel> Channels, Channel TriggerChannel, ScopeSettings Settings)
{
    /// <summary>Makes the voice ready and takes the sweep.</summary>
    /// <param name="trims">False leaves all trimmers as they stand.</param>
    /// <param name="kelvin">Temperature of all parts.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="pick">A build instead of the design.</param>
    /// <param name="progress">Told the stage and the share that is done.</param>
    /// <param name="cancel">Looked at while it runs.</param>
    public (ScopeRecord? Record, SolveFailure? Failure) Take(
        bool trims,
        double kelvin,
        int threads,
        BuildPick? pick = null,
        IProgress<(string, double)>? progress = null,
        CancellationToken cancel = default
    )
    {
        progress?.Report((pick is null ? "trimming" : "building and trimming", 0));
        (PlayedVoice? played, SolveFailure? failure) = pick is null ? ReadyVoice.Of(Written, Moved, trims, kelvin, threads) : ReadyVoice.Of(Written, Moved, pick, kelvin, threads);
        return played is null ? (null, failure) : ScopeRun.Take(played.Twin(Accuracy.Default), Channels, TriggerChannel, Settings, progress, cancel);
    }
}
