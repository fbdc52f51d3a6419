using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Budgets;

namespace Consort.Engine.Pitch;

/// <summary>Reads one oscillator of a trimmed voice: its curves first, then what its errors come from.</summary>
/// <param name="voice">Trimmed and prepared, and for nobody else.</param>
/// <param name="oscillator">Which one.</param>
internal sealed class SheetReader(PlayedVoice voice, Oscillator oscillator)
{
    private readonly SoloOscillator solo = new(voice, oscillator);

    /// <summary>What was read, one curve for each temperature.</summary>
    public ImmutableArray<TrackingCurve> Curves { get; private set; } = [];

    /// <summary>Reads the curves. Must be called first.</summary>
    /// <param name="notes">Keyboard voltages, V.</param>
    /// <param name="kelvins">Temperatures, the bench's first, K.</param>
    public SolveFailure? Read(double[] notes, double[] kelvins)
    {
        if (solo.Prepare(voice.MiddleVolts) is { } unready)
            return unready;
        List<TrackingCurve> curves = [];
        foreach (double kelvin in kelvins)
        {
            BringTo(kelvin);
            (TrackingCurve? curve, SolveFailure? broken) = ReadCurve(notes, kelvin);
            if (curve is null)
                return broken;
            curves.Add(curve);
        }
        Curves = [.. curves];
        BringTo(kelvins[0]);
        return null;
    }

    /// <summary>Splits its errors at the bench by cause and part.</summary>
    /// <param name="notes">Where, V.</param>
    public (OscillatorSheet? Sheet, SolveFailure? Failure) Split(double[] notes)
    {
        PitchBudget budget = new(voice, solo, notes);
        (BudgetResult? split, SolveFailure? failed) = budget.Run(CentsAt);
        return split is null ? (null, failed) : (new(oscillator, Curves, split.Budget, split.Drifts, budget.Truncation), null);
    }

    private double CentsAt(double volts)
    {
        foreach (TrackingPoint point in Curves[0].Points)
            if (point.ControlVolts == volts)
                return point.Cents;
        return oscillator.Cents(volts, solo.Read(volts).Hertz);
    }

    private void BringTo(double kelvin)
    {
        if (voice.Circuit.Temperature == kelvin)
            return;
        voice.Circuit.SetTemperature(kelvin);
        solo.TakeParameters();
    }

    private (TrackingCurve? Curve, SolveFailure? Failure) ReadCurve(double[] notes, double kelvin)
    {
        List<TrackingPoint> points = [];
        foreach (double volts in notes)
        {
            (double hertz, SolveFailure? failure) = solo.Read(volts);
            if (failure is not null)
                return (null, failure);
            points.Add(new(volts, oscillator.IdealHertz(volts), hertz, oscillator.Cents(volts, hertz)));
        }
        return (new(oscillator.Name, kelvin, [.. points]), null);
    }
}
