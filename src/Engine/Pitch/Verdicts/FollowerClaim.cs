using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Verdicts;

/// <summary>Do the followers stand where they should against their lead, over keyboard and temperature?</summary>
internal static class FollowerClaim
{
    public static Claim? Of(Voice voice, OscillatorSheet[] sheets)
    {
        Limits limits = voice.Limits;
        double octave = TrackingClaim.Octave(sheets);
        (OscillatorSheet Sheet, OscillatorSheet Lead, double Kelvin, TrackingPoint Point, double Cents)? worst = null;
        foreach ((OscillatorSheet sheet, OscillatorSheet lead) in Links(voice, sheets))
            for (int t = 0; t < sheet.Curves.Length; t++)
                for (int i = 0; i < sheet.Curves[t].Points.Length; i++)
                {
                    TrackingPoint point = sheet.Curves[t].Points[i];
                    double cents = point.Cents - lead.Curves[t].Points[i].Cents;
                    if (!limits.Asks(point.ControlVolts, octave))
                        continue;
                    if (worst is null || !(Math.Abs(cents) <= Math.Abs(worst.Value.Cents)))
                        worst = (sheet, lead, sheet.Curves[t].Kelvin, point, cents);
                }
        return worst is null ? null : Claim(limits, worst.Value);
    }

    private static IEnumerable<(OscillatorSheet Follower, OscillatorSheet Lead)> Links(Voice voice, OscillatorSheet[] sheets) =>
        from follower in sheets
        let name = voice.LeadOf(follower.Oscillator.Name)
        from lead in sheets
        where lead.Oscillator.Name == name
        select (follower, lead);

    private static Claim Claim(Limits limits, (OscillatorSheet Sheet, OscillatorSheet Lead, double Kelvin, TrackingPoint Point, double Cents) worst)
    {
        string name = worst.Sheet.Oscillator.Name;
        double celsius = worst.Kelvin - 273.15;
        double beat = worst.Point.IdealHertz * (Math.Pow(2, Math.Abs(worst.Cents) / 1200) - 1);
        int t = Array.FindIndex([.. worst.Sheet.Curves], curve => curve.Kelvin == worst.Kelvin);
        double own = worst.Sheet.Curves[t].Points.First(p => p.ControlVolts == worst.Point.ControlVolts).Cents;
        Reason why = Reasons.Figure(
            $"{name} against {worst.Lead.Oscillator.Name} at {worst.Point.ControlVolts:G3} V, {celsius:F0} °C (a beat of {beat:F2} Hz that is not meant)",
            worst.Cents,
            "cents",
            Reasons.Figure($"{name} against the keyboard", own, "cents", [.. Reasons.ByCause(worst.Sheet.Budget.Lines, worst.Sheet.Budget.NoteNearest(worst.Point.ControlVolts))]),
            Reasons.Figure($"less {worst.Lead.Oscillator.Name} against the keyboard", own - worst.Cents, "cents", [.. Reasons.ByCause(worst.Lead.Budget.Lines, worst.Lead.Budget.NoteNearest(worst.Point.ControlVolts))])
        );
        bool passed = Math.Abs(worst.Cents) <= limits.FollowerCents;
        return new(
            "followers",
            "Worst follower against its lead, 25 °C and both other temperatures",
            Math.Abs(worst.Cents),
            limits.FollowerCents,
            LimitSense.AtMost,
            "cents",
            passed,
            $"{name} at {worst.Point.ControlVolts:G3} V, {celsius:F0} °C",
            passed ? null : "the same converter parts and tempco in lead and follower, so that both err alike",
            why
        );
    }
}
