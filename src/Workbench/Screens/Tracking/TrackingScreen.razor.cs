using System.Collections.Immutable;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Workbench.Charts;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Tracking;

/// <summary>Does it play in tune, and if not, why not?</summary>
public sealed partial class TrackingScreen
{
    [Inject]
    private BuildProof Build { get; set; } = null!;

    private bool IsBuild => Selection.Build is not null;

    private LongWorkState<long, Proof>? Work { get; set; }

    /// <inheritdoc/>
    protected override void Look()
    {
        base.Look();
        Work = Build.Work.State;
    }

    private Proof? Proof => IsBuild ? Work?.Result : State.Proof;

    private bool IsOld => IsBuild ? Work?.Revision != State.Revision : State.IsProofOld;

    private ImmutableArray<TrackingCurve> Curves => (IsBuild ? Proof?.Tracking : State.Answer?.Tracking) ?? [];

    private double[] Kelvins => [.. Curves.Select(curve => curve.Kelvin).Distinct().Order()];

    private string[] Oscillators => [.. Curves.Select(curve => curve.Oscillator).Distinct()];

    private double Kelvin => Selection.Celsius is { } celsius ? Kelvins.MinBy(kelvin => Math.Abs(kelvin - 273.15 - celsius)) : Curves[0].Kelvin;

    private IEnumerable<TrackingCurve> Shown => Curves.Where(curve => IsChosen(curve.Oscillator)).OrderBy(curve => Array.IndexOf(Oscillators, curve.Oscillator));

    private IEnumerable<Budget> Budgets =>
        (Proof?.Budgets ?? []).Where(budget => Selection.Oscillator is { } one ? budget.Oscillator == one : budget == Proof!.Budgets[0]);

    // The scale at the side: to the limits, or as close as the errors allow.
    private bool IsClose => Selection.Word("scale") == "close";

    private ChartData Plot
    {
        get
        {
            double limit = State.Design!.Voice.Limits.TrackingCents;
            bool isBench = Figures.IsReference(Kelvin) && !IsClose;
            ImmutableArray<ChartLine> lines = [.. Curves.Where(curve => curve.Kelvin == Kelvin && IsChosen(curve.Oscillator)).Select(Line)];
            return new(isBench ? "tracking" : "tracking-close", $"Pitch error at {Figures.Celsius(Kelvin)}", new("control voltage, V", "V", 2), new("error, cents", "cents", 3), lines)
            {
                Levels = isBench ? [new(limit, $"limit {limit:0.##}"), new(-limit, "")] : [],
                Band = isBench ? (-limit, limit) : null,
            };
        }
    }

    private ChartLine Line(TrackingCurve curve) =>
        new(curve.Oscillator, Array.IndexOf(Oscillators, curve.Oscillator), [.. curve.Points.Select(point => (point.ControlVolts, point.Cents))]);

    private bool IsChosen(string oscillator) => Selection.Oscillator is not { } one || one == oscillator || !Oscillators.Contains(one);

    private bool IsOver(TrackingCurve curve, TrackingPoint point) =>
        Figures.IsReference(curve.Kelvin)
        && State.Design!.Voice.Limits is { } limits
        && limits.Asks(point.ControlVolts, State.Design.Voice.VoltsPerOctave)
        && !(Math.Abs(point.Cents) <= limits.TrackingCents);
}
