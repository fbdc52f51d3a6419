using System.Collections.Immutable;
using Consort.Engine.Pitch.Budgets;

namespace Consort.Engine.Pitch;

/// <summary>All that is read of one trimmed oscillator: its curve at each temperature and its budget.</summary>
/// <param name="Oscillator">Which one.</param>
/// <param name="Curves">One for each temperature, the reference temperature first.</param>
/// <param name="Budget">By cause and part.</param>
/// <param name="Drifts">What parts with a known tempco do, by note of the budget.</param>
/// <param name="Truncation">Largest share of an adjoint that was cut off.</param>
internal sealed record OscillatorSheet(
    Oscillator Oscillator,
    ImmutableArray<TrackingCurve> Curves,
    Budget Budget,
    ImmutableArray<TempcoLine> Drifts,
    double Truncation
);
