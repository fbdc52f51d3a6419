using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>
/// What one oscillator's core makes of its timing current. Its charge law U = ln(period·current), in cents, is that of the
/// design as its transients were read, moved by departures φ: U(I, φ) = U₀(I) + Σ g(I)·φ + Σ [own(I, d) + Σ g′(I, d)·φ],
/// the second sum over the few that move it far. A value's φ is the logarithm of its share, so that a capacitor's and a
/// ratio's laws are exact; all others count in their own unit. What is known is known at a few currents and interpolated
/// between them by weights that all parameters share.
/// </summary>
internal sealed record CoreLaw
{
    /// <summary>The oscillator.</summary>
    public required Oscillator Oscillator { get; init; }

    /// <summary>Drawn parameters that act in the core, as places in the voice's plan of draws.</summary>
    public required int[] Parameters { get; init; }

    /// <summary>The same parameters' ways to move.</summary>
    public required DrawnParameter[] Drawn { get; init; }

    /// <summary>Trimmers that act in the core, as places among the voice's; their φ come after the parameters'.</summary>
    public required int[] Trimmers { get; init; }

    /// <summary>Where those trimmers stand in the design.</summary>
    public required double[] Positions { get; init; }

    /// <summary>g by temperature, current and φ, cents.</summary>
    public required double[][][] Slopes { get; init; }

    /// <summary>What movers do past the slopes.</summary>
    public required MovedLaw[] Movers { get; init; }

    /// <summary>What two of them do together past that.</summary>
    public required CorePair[] Pairs { get; init; }

    /// <summary>Weight of each known current at a note of the design, by temperature and note.</summary>
    public required double[][][] Weights { get; init; }

    /// <summary>What the weights change by for a relative change of current.</summary>
    public required double[][][] WeightSlopes { get; init; }

    /// <summary>First and second derivative of U₀ by the relative current at each note, by temperature, cents.</summary>
    public required (double First, double Second)[][] Tilts { get; init; }

    /// <summary>The design's own pitch error by temperature and note, cents.</summary>
    public required double[][] Cents { get; init; }

    /// <summary>The same core in an oscillator that is asked for another pitch.</summary>
    /// <param name="asked">The oscillator as it is asked now.</param>
    /// <param name="volts">Keyboard voltages of the notes, V.</param>
    public CoreLaw Against(Oscillator asked, double[] volts) =>
        this with { Oscillator = asked, Cents = [.. Cents.Select(row => row.Select((cents, n) => cents + asked.Cents(volts[n], Oscillator.IdealHertz(volts[n]))).ToArray())] };
}

/// <summary>A mover as a core law has it.</summary>
/// <param name="Phi">The φ, by place among the law's, by which it is known where it stands.</param>
/// <param name="PerDeparture">d for one unit of that φ's departure.</param>
/// <param name="Own">Coefficients of d, d², … by known current, cents.</param>
/// <param name="Others">What d and d² add to the slope of every φ of the law, by known current, cents.</param>
internal sealed record MovedLaw(int Phi, double PerDeparture, double[][] Own, (double[] First, double[] Second)[] Others);
