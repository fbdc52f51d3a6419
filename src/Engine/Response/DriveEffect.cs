using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Response;

/// <summary>What a drive does to an oscillator, at its low end, in its middle and at its high end.</summary>
/// <param name="Drive">What moves.</param>
/// <param name="Hertz">The frequency at each; NaN where it does not oscillate.</param>
/// <param name="Widths">By pulse output: the share of the period that it is high at each.</param>
public sealed record DriveEffect(Drive Drive, ImmutableArray<double> Hertz, ImmutableDictionary<string, ImmutableArray<double>> Widths)
{
    // Less is what supply and reference carry over, and no one hears it: 0.05 cent, a thousandth of a period.
    private const double Moved = 3e-5;
    private const double Widened = 1e-3;

    // A semitone: what moves the pitch further is no width control, though it may move a width along with it.
    private static readonly double Semitone = Math.Pow(2, 1.0 / 12) - 1;

    /// <summary>True when the frequency moves, or stops.</summary>
    public bool MovesPitch => Hertz.Any(hertz => !(Math.Abs(hertz / Hertz[1] - 1) < Moved));

    /// <summary>True when one end moves the frequency and the other does not: what has a threshold, as a sync input that a level
    /// holds, and no modulation, which goes either way.</summary>
    public bool MovesPitchOneWay => Hertz.Length == 3 && Math.Abs(Hertz[0] / Hertz[1] - 1) < Moved != Math.Abs(Hertz[2] / Hertz[1] - 1) < Moved;

    /// <summary>True when it moves the width of that output.</summary>
    public bool MovesWidth(string output) => !Hertz.Any(hertz => !(Math.Abs(hertz / Hertz[1] - 1) < Semitone)) && Widths.TryGetValue(output, out ImmutableArray<double> shares) && shares.Any(share => Math.Abs(share - shares[1]) > Widened);

    /// <summary>Reads it.</summary>
    /// <param name="pulses">Outputs that are pulses, with their states, in the order that the oscillator looks at them.</param>
    internal static (DriveEffect? Effect, SolveFailure? Failure) Read(DrivenOscillator driven, Drive drive, ImmutableArray<PulseOutput> pulses)
    {
        double[] hertz = new double[3];
        double[][] shares = [.. pulses.Select(_ => new double[3])];
        for (int i = 0; i < 3; i++)
        {
            (SteadyPeriod? period, SolveFailure? failure) = driven.At(drive, drive.Low + 0.5 * i * drive.Span);
            if (period is null)
                return (null, failure);
            hertz[i] = period.Hertz;
            for (int o = 0; o < pulses.Length; o++)
                shares[o][i] = double.IsFinite(period.Hertz) ? WidthReader.Share(period.Times, period.Volts[o], pulses[o].Middle) : double.NaN;
        }
        return (new(drive, [.. hertz], pulses.Select((pulse, o) => (pulse.Label, o)).ToImmutableDictionary(pair => pair.Label, pair => shares[pair.o].ToImmutableArray())), null);
    }
}

/// <summary>An output that rests at two states.</summary>
/// <param name="Label">Its jack.</param>
/// <param name="Low">Low state, V.</param>
/// <param name="High">High state, V.</param>
public sealed record PulseOutput(string Label, double Low, double High)
{
    /// <summary>Where its edges are read, V.</summary>
    public double Middle => 0.5 * (Low + High);

    /// <summary>Those of one steady period.</summary>
    internal static ImmutableArray<PulseOutput> Among(ImmutableArray<string> outputs, SteadyPeriod period) =>
        [
            .. outputs.Select((output, i) => (output, Levels: WaveLevels.Of(period.Times, period.Volts[i])))
                .Where(pair => pair.Levels.HasStates)
                .Select(pair => new PulseOutput(pair.output, pair.Levels.Low, pair.Levels.High)),
        ];
}
