using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Response;

/// <summary>An output under one load.</summary>
/// <param name="Ohms">The load to 0 V; infinity for none.</param>
/// <param name="PeakToPeak">V.</param>
/// <param name="Lowest">V.</param>
/// <param name="Highest">V.</param>
/// <param name="Mean">V.</param>
/// <param name="Rms">V, the direct part included.</param>
/// <param name="PitchCents">How far the load moves the oscillator's pitch.</param>
public sealed record LevelPoint(double Ohms, double PeakToPeak, double Lowest, double Highest, double Mean, double Rms, double PitchCents);

/// <summary>An output without load at a temperature.</summary>
/// <param name="Kelvin">K.</param>
/// <param name="PeakToPeak">V.</param>
/// <param name="Mean">V.</param>
public sealed record LevelDrift(double Kelvin, double PeakToPeak, double Mean);

/// <summary>An output's levels under loads.</summary>
/// <param name="Output">Its jack.</param>
/// <param name="Ohms">Its resistance, from the drop under the middle load; NaN without a swing.</param>
/// <param name="Points">From no load to the heaviest.</param>
public sealed record LevelSheet(string Output, double Ohms, ImmutableArray<LevelPoint> Points)
{
    /// <summary>Without load at each temperature.</summary>
    public ImmutableArray<LevelDrift> Drifts { get; init; } = [];

    /// <summary>Loads that are tried, ohm: nothing, inputs of common practice, two of them, a line input, a heavy one.</summary>
    public static ImmutableArray<double> Loads { get; } = [double.PositiveInfinity, 100e3, 47e3, 10e3, 1e3];

    private const double Nothing = 1e12; // what stands for no load, ohm

    /// <summary>Reads it: loads stand at the other end of a cord of 30 cm, to the supply's star point.</summary>
    internal static (LevelSheet? Sheet, SolveFailure? Failure) Read(PlayedVoice ready, string oscillator, string output, double volts, ImmutableArray<double> kelvins)
    {
        Voice wired = Drive.Plug(ready.Voice, new(oscillator, output), Drive.Source, Nothing);
        (DrivenOscillator? driven, SolveFailure? failure) = DrivenOscillator.Of(ready, oscillator, null, [output], volts, wired);
        if (driven is null)
            return (null, failure);
        ImmutableArray<LevelPoint>.Builder points = ImmutableArray.CreateBuilder<LevelPoint>();
        double free = double.NaN;
        foreach (double ohms in Loads)
        {
            driven.Set($"{Drive.Source}/R", "value", double.IsFinite(ohms) ? ohms : Nothing);
            (SteadyPeriod? period, SolveFailure? broken) = driven.Read();
            if (period is null)
                return (null, broken);
            free = points.Count == 0 ? period.Hertz : free;
            points.Add(Point(ohms, period, free));
        }
        (LevelPoint open, LevelPoint loaded) = (points[0], points[3]);
        driven.Set($"{Drive.Source}/R", "value", Nothing);
        (ImmutableArray<LevelDrift> drifts, SolveFailure? lost) = driven.AtEach(kelvins, kelvin => Drifted(driven, kelvin));
        return lost is not null ? (null, lost) : (new(output, loaded.Ohms * (open.PeakToPeak / loaded.PeakToPeak - 1), points.ToImmutable()) { Drifts = drifts }, null);
    }

    private static (LevelDrift?, SolveFailure?) Drifted(DrivenOscillator driven, double kelvin)
    {
        (SteadyPeriod? period, SolveFailure? failure) = driven.Read();
        if (period is null)
            return (null, failure);
        LevelPoint point = Point(double.PositiveInfinity, period, period.Hertz);
        return (new(kelvin, point.PeakToPeak, point.Mean), null);
    }

    private static LevelPoint Point(double ohms, SteadyPeriod period, double free)
    {
        if (period.Times.Length < 2)
            return new(ohms, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN);
        WaveReading reading = WaveReading.Of(period.Times, period.Volts[0]);
        return new(ohms, reading.PeakToPeak, reading.Levels.Lowest, reading.Levels.Highest, reading.Mean, reading.Rms, 1200 * Math.Log2(period.Hertz / free));
    }
}
