using System.Collections.Immutable;

namespace Consort.Engine.Response;

/// <summary>A frequency at a voltage; NaN where it does not oscillate.</summary>
public readonly record struct FrequencyPoint(double Volts, double Hertz);

/// <summary>What becomes of the frequency where the modulation drives it down.</summary>
public enum LowEnd
{
    /// <summary>It still runs at the end of the swing.</summary>
    Runs,
    /// <summary>It stops: not through zero.</summary>
    Stops,
    /// <summary>It falls and rises again, as through zero it does.</summary>
    Folds,
}

/// <summary>A sine at the input.</summary>
/// <param name="Peak">Its peak, V.</param>
/// <param name="DeviationHertz">Half of the way between the lowest and the highest frequency that it reaches, Hz.</param>
/// <param name="Index">Deviation by the modulator's frequency.</param>
/// <param name="ShiftCents">Mean frequency over a cycle against the carrier's, cents, from the law read at rest.</param>
/// <param name="MotionCents">The same, counted in the circuit in motion with that sine at the jack; NaN when it was not run.</param>
/// <param name="MotionError">Standard error of that, cents.</param>
public sealed record DepthPoint(double Peak, double DeviationHertz, double Index, double ShiftCents, double MotionCents, double MotionError);

/// <summary>The carrier and the law's slope at a temperature.</summary>
/// <param name="Kelvin">K.</param>
/// <param name="Cents">The carrier against the one at the first temperature.</param>
/// <param name="Slope">As the sheet's.</param>
public sealed record CarrierDrift(double Kelvin, double Cents, double Slope);

/// <summary>The frequency against the voltage at an input.</summary>
/// <param name="Drive">The jack, its depth control fully open.</param>
/// <param name="Carrier">Frequency with nothing at the jack, Hz.</param>
/// <param name="IsLinear">True when equal voltages add equal hertz; false when they add equal intervals.</param>
/// <param name="Slope">At 0 V: Hz/V when linear, else octaves/V.</param>
/// <param name="Bend">Largest distance of a point from the straight line (of hertz, or of octaves): a share of the carrier, or octaves.</param>
/// <param name="Points">Over the whole swing, evenly.</param>
/// <param name="End">What happens at the low end.</param>
/// <param name="EndVolts">Where it stops or turns, V; where the straight line would reach nothing when it runs on and is linear.</param>
/// <param name="Depths">Sines of rising peak.</param>
/// <param name="Drifts">One for each temperature.</param>
public sealed record FrequencySheet(
    Drive Drive,
    double Carrier,
    bool IsLinear,
    double Slope,
    double Bend,
    ImmutableArray<FrequencyPoint> Points,
    LowEnd End,
    double EndVolts,
    ImmutableArray<DepthPoint> Depths,
    ImmutableArray<CarrierDrift> Drifts
);
