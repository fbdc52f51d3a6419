using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Wiring;

namespace Consort.Engine.Pitch.Locking;

/// <summary>One oscillator of a voice, with what is read of it at the present note.</summary>
/// <param name="own">A copy of the voice that nobody else moves.</param>
/// <param name="oscillator">Which one.</param>
internal sealed class LockPlayer(PlayedVoice own, Oscillator oscillator)
{
    private readonly SoloOscillator solo = new(own, oscillator);
    private readonly Dictionary<string, Disturbance> brings = [];
    private readonly Dictionary<string, Piece> pieces = [];
    private bool isReady;

    /// <summary>The nets that it shares with the voice.</summary>
    public IReadOnlyList<string> Shared => solo.Shared;

    /// <summary>How its period answers.</summary>
    public PhaseResponse? Response { get; private set; }

    /// <summary>What it brings to another.</summary>
    public Disturbance Brings(Oscillator other) => brings[other.Name];

    /// <summary>Reads how its period answers, in so many cells of a turn.</summary>
    public SolveFailure? ReadResponse(double volts, int cells)
    {
        if (!isReady && solo.Prepare(own.MiddleVolts) is { } unready)
            return unready;
        isReady = true;
        double ideal = 1 / oscillator.IdealHertz(volts);
        (double[]? x, SolveFailure? failure) = solo.Start(volts);
        if (x is null)
            return failure;
        int[] rows = [.. Shared.Select(solo.Circuit.Net)];
        // Followed ten times closer, the ranges of the examples move by less than a hundredth.
        (Response, failure) = PhaseResponse.Read(solo.Circuit, solo.Run(Accuracy.Default), solo.Probe, x, rows, cells, ideal);
        return Response is null ? failure ?? new($"{oscillator.Name} does not oscillate", oscillator.Spec.Net, PlayedVoice.MostPeriods * ideal, 0) : null;
    }

    /// <summary>Reads what it brings to others.</summary>
    public SolveFailure? ReadBrought(double volts, IReadOnlyList<Oscillator> others)
    {
        Piece[] to = [.. others.Select(PieceOf)];
        (Disturbance[]? felt, SolveFailure? failure) = Disturbance.Take(own, oscillator, to, volts);
        for (int i = 0; felt is not null && i < felt.Length; i++)
            brings[others[i].Name] = felt[i];
        return failure;
    }

    private Piece PieceOf(Oscillator other) => pieces.TryGetValue(other.Name, out Piece? known) ? known : pieces[other.Name] = new(own.Circuit, other.Name, own.PreparedRest);
}
