using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Wiring;

namespace Consort.Engine.Pitch.Locking;

/// <summary>One oscillator of a voice, with what is read of it at the present note.</summary>
internal sealed class LockPlayer
{
    // For what steps without Newton cannot follow.
    private static readonly Accuracy Sure = new(1e-5);

    private readonly Oscillator oscillator;
    private readonly Lazy<PlayedVoice> copy; // one that nobody else moves
    private readonly Lazy<SoloOscillator> alone;
    private readonly Dictionary<string, Disturbance> brings = [];
    private readonly Dictionary<string, Piece> pieces = [];
    private bool isReady;
    private double readAt; // V

    /// <summary>Of a voice that stands still while this one is made use of.</summary>
    /// <param name="oscillator">Which one.</param>
    /// <param name="accuracy">How closely what it brings to others is followed.</param>
    public LockPlayer(PlayedVoice voice, Oscillator oscillator, Accuracy accuracy)
    {
        this.oscillator = oscillator;
        copy = new(() => voice.Twin(accuracy));
        alone = new(() => new(Own, oscillator));
        Shared = Piece.SharedNets(voice.Circuit.Design, oscillator.Name);
    }

    private PlayedVoice Own => copy.Value;

    private SoloOscillator Solo => alone.Value;

    /// <summary>The nets that it shares with the voice.</summary>
    public IReadOnlyList<string> Shared { get; }

    /// <summary>How its period answers.</summary>
    public PhaseResponse? Response { get; private set; }

    /// <summary>True when that was read at this note.</summary>
    public bool HasReadAt(double volts) => Response is not null && readAt == volts;

    /// <summary>Largest share that an adjoint lost, of all responses that were read.</summary>
    public double Truncation { get; private set; }

    /// <summary>What it brings to another.</summary>
    public Disturbance Brings(Oscillator other) => brings[other.Name];

    /// <summary>Reads how its period answers, in so many cells of a turn.</summary>
    public SolveFailure? ReadResponse(double volts, int cells)
    {
        if (!isReady && Solo.Prepare(Own.MiddleVolts) is { } unready)
            return unready;
        isReady = true;
        double ideal = 1 / oscillator.IdealHertz(volts);
        (double[]? x, SolveFailure? failure) = Solo.Start(volts);
        if (x is null)
            return failure;
        // Followed ten times closer, the ranges of the examples move by a few thousandths.
        (RunIn? settled, failure) = RunIn.Of(accuracy => Solo.Run(accuracy), Accuracy.Default, x, (oscillator.Name, oscillator.Spec.Net), PlayedVoice.MostPeriods * ideal);
        if (settled is null)
            return failure;
        int[] rows = [.. Shared.Select(Solo.Circuit.Net)];
        (Response, failure) = PhaseResponse.Read(Solo.Circuit, settled, Solo.Probe, rows, cells);
        readAt = volts;
        Truncation = Math.Max(Truncation, Response?.Truncation ?? 0);
        return Response is null ? failure ?? new($"{oscillator.Name} does not oscillate", oscillator.Spec.Net, PlayedVoice.MostPeriods * ideal, 0) : null;
    }

    /// <summary>Reads what it brings to others.</summary>
    public SolveFailure? ReadBrought(double volts, IReadOnlyList<Oscillator> others)
    {
        Piece[] to = [.. others.Select(PieceOf)];
        (Disturbance[]? felt, SolveFailure? failure) = Disturbance.Take(Own, oscillator, to, volts, Own.Accuracy);
        if (felt is null && Own.Accuracy.Linear)
            (felt, failure) = Disturbance.Take(Own, oscillator, to, volts, Sure);
        for (int i = 0; felt is not null && i < felt.Length; i++)
            brings[others[i].Name] = felt[i];
        return failure;
    }

    private Piece PieceOf(Oscillator other) => pieces.TryGetValue(other.Name, out Piece? known) ? known : pieces[other.Name] = new(Own.Circuit, other.Name, Own.PreparedRest);
}
