using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Verdicts;

/// <summary>Does every oscillator track, trimmed, at 25 °C?</summary>
internal static class TrackingClaim
{
    public static Claim Of(Voice voice, OscillatorSheet[] sheets)
    {
        Limits limits = voice.Limits;
        double high = limits.LowestVoltage + limits.Octaves * Octave(sheets);
        (OscillatorSheet Sheet, TrackingPoint Point) worst = Worst(sheets, limits);
        double figure = double.IsNaN(worst.Point.Cents) ? double.PositiveInfinity : Math.Abs(worst.Point.Cents);
        (string cause, Reason why) = Explain(worst.Sheet, worst.Point);
        bool passed = figure <= limits.TrackingCents;
        return new(
            "tracking",
            $"Worst pitch error, {limits.LowestVoltage:G3} V to {high:G3} V, trimmed, 25 °C",
            figure,
            limits.TrackingCents,
            LimitSense.AtMost,
            "cents",
            passed,
            cause,
            passed ? null : Mend(worst.Sheet, worst.Point),
            why
        );
    }

    public static double Octave(OscillatorSheet[] sheets) => sheets[0].Oscillator.Spec.VoltsPerOctave;

    private static (OscillatorSheet, TrackingPoint) Worst(OscillatorSheet[] sheets, Limits limits)
    {
        (OscillatorSheet, TrackingPoint)? worst = null;
        double size = -1;
        foreach (OscillatorSheet sheet in sheets)
            foreach (TrackingPoint point in sheet.Curves[0].Points)
            {
                if (!limits.Asks(point.ControlVolts, Octave(sheets)))
                    continue;
                double cents = double.IsNaN(point.Cents) ? double.PositiveInfinity : Math.Abs(point.Cents);
                if (cents > size)
                    (worst, size) = ((sheet, point), cents);
            }
        return worst ?? (sheets[0], sheets[0].Curves[0].Points[0]);
    }

    private static (string Cause, Reason Why) Explain(OscillatorSheet sheet, TrackingPoint point)
    {
        string where = $"{sheet.Oscillator.Name} at {point.ControlVolts:G3} V ({point.IdealHertz:F1} Hz)";
        if (double.IsNaN(point.Cents))
            return ($"{where} does not oscillate", Reasons.Words($"{where} does not oscillate"));
        Budget budget = sheet.Budget;
        int note = budget.NoteNearest(point.ControlVolts);
        ImmutableArray<Reason> causes = Reasons.ByCause(budget.Lines, note);
        double unexplained = budget.UnexplainedCents[note];
        Reason why = Reasons.Figure(
            $"{where}, against {(sheet.Oscillator.Member.StandsCents == 0 ? "the keyboard" : $"the keyboard {sheet.Oscillator.Member.StandsCents:+0.#;-0.#} cents")}",
            point.Cents,
            "cents",
            [.. causes, Reasons.Figure("not split: second order, and what has no ideal to compare with", unexplained, "cents")]
        );
        if (double.IsNaN(unexplained))
            return ($"{where}: no split by cause, since a trimmer stands at its end", why);
        // A split that leaves more over than the error itself names no cause.
        if (!(Math.Abs(unexplained) <= Math.Max(0.5, 0.5 * Math.Abs(point.Cents))))
            return ($"{where}: the split by cause leaves {unexplained:+0.0;-0.0} cents over and names none", why);
        Reason? first = causes.FirstOrDefault();
        string cause = first is null
            ? where
            : $"{where}: {first.Text}" + (first.Children.FirstOrDefault() is { Part: { } part } ? $" ({part.Part}, {part.Parameter})" : "");
        return (cause, why);
    }

    private static string Mend(OscillatorSheet sheet, TrackingPoint point)
    {
        int note = sheet.Budget.NoteNearest(point.ControlVolts);
        BudgetLine? line = sheet.Budget.Lines.OrderByDescending(l => Math.Abs(l.Cents[note])).FirstOrDefault();
        if (line is null || Math.Abs(sheet.Budget.UnexplainedCents[note]) > Math.Abs(line.Cents[note]))
            return "look at where its trimmers stand";
        double seconds = sheet.Budget.Lines.Where(l => l.Cause == Cause.Reset && l.Unit == "s").Sum(l => l.Value);
        if (line is { Cause: Cause.Reset, Unit: "s" } && sheet.Oscillator.Member.Module.Trims.All(trim => trim.Purpose != TrimPurpose.HighEnd))
            return $"a resistor in series with {sheet.Oscillator.TimingCapacitor} whose RC is the dead time of {seconds * 1e6:G3} µs, with a trimmer for the high end";
        return $"{line.Part}: its {line.Parameter} brings {line.Cents[note]:+0.00;-0.00} of these cents";
    }
}
