using System.Collections.Immutable;
using Consort.Engine.Circuit;
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
)
{
    /// <summary>Reads one oscillator of a trimmed voice, which may be used up for it.</summary>
    public static (OscillatorSheet? Sheet, SolveFailure? Failure) Read(
        PlayedVoice voice,
        Oscillator oscillator,
        double[] notes,
        double[] kelvins,
        double[] budgetNotes
    )
    {
        SoloOscillator solo = new(voice, oscillator);
        if (solo.Prepare(voice.MiddleVolts) is { } failure)
            return (null, failure);
        PitchBudget budget = new(voice, solo, budgetNotes);
        (BudgetResult? split, SolveFailure? failed) = budget.Run(volts =>
        {
            (double hertz, _) = solo.Read(volts);
            return oscillator.Cents(volts, hertz);
        });
        if (split is null)
            return (null, failed);
        List<TrackingCurve> curves = [];
        foreach (double kelvin in kelvins)
        {
            voice.Circuit.SetTemperature(kelvin);
            solo.TakeParameters();
            (TrackingCurve? curve, SolveFailure? broken) = ReadCurve(solo, notes, kelvin);
            if (curve is null)
                return (null, broken);
            curves.Add(curve);
        }
        return (new(oscillator, [.. curves], split.Budget, split.Drifts, budget.Truncation), null);
    }

    private static (TrackingCurve? Curve, SolveFailure? Failure) ReadCurve(SoloOscillator solo, double[] notes, double kelvin)
    {
        List<TrackingPoint> points = [];
        foreach (double volts in notes)
        {
            (double hertz, SolveFailure? failure) = solo.Read(volts);
            if (failure is not null)
                return (null, failure);
            points.Add(new(volts, solo.Oscillator.IdealHertz(volts), hertz, solo.Oscillator.Cents(volts, hertz)));
        }
        return (new(solo.Oscillator.Name, kelvin, [.. points]), null);
    }
}
