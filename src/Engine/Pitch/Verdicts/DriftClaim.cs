using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Budgets;

namespace Consort.Engine.Pitch.Verdicts;

/// <summary>How far does any note move between the bench's temperature and the coldest and warmest?</summary>
internal static class DriftClaim
{
    public static Claim Of(Voice voice, OscillatorSheet[] sheets, ImmutableArray<TemperatureShift> shifts)
    {
        Limits limits = voice.Limits;
        TemperatureShift worst = shifts.MaxBy(shift => Math.Abs(shift.WorstCents)) ?? shifts[0];
        OscillatorSheet sheet = sheets.First(s => s.Oscillator.Name == worst.Oscillator);
        bool passed = Math.Abs(worst.WorstCents) <= limits.DriftCents;
        Reason why = Explain(sheet, worst);
        return new(
            "drift",
            $"Largest move of any note, {limits.ColdKelvin - 273.15:F0} °C to {limits.WarmKelvin - 273.15:F0} °C, trimmed at 25 °C",
            Math.Abs(worst.WorstCents),
            limits.DriftCents,
            LimitSense.AtMost,
            "cents",
            passed,
            $"{worst.Oscillator} at {worst.AtControlVolts:G3} V and {worst.Kelvin - 273.15:F0} °C: {worst.Cause}",
            passed ? null : Mend(sheet, worst),
            why
        );
    }

    private const string Compensate = "a resistor of about +3350 ppm/K in the converter's divider: nothing of its size cancels kT/q";

    private static string Mend(OscillatorSheet sheet, TemperatureShift shift)
    {
        (TempcoLine Line, double Cents)[] lines = Lines(sheet, shift.AtControlVolts, shift.Kelvin - Prover.BenchKelvin);
        if (IsUncancelled(lines, shift.WorstCents))
            return Compensate;
        string part = lines[0].Line.Part.Name;
        return lines[0].Line.Part.Kind.Word switch
        {
            "voltage source" => $"a reference of less tempco between {part} and what sets the pitch",
            "resistor" => $"another tempco in {part}: kT/q of the converter asks for 3354 ppm/K at 25 °C of the whole divider",
            _ => $"{part} with less tempco",
        };
    }

    // Nothing with a stated tempco comes near what the semiconductors' own laws do.
    private static bool IsUncancelled((TempcoLine Line, double Cents)[] lines, double cents)
    {
        double own = cents - lines.Sum(line => line.Cents);
        return lines.Length == 0 || Math.Abs(own) > 3 * Math.Abs(lines[0].Cents);
    }

    /// <summary>Every oscillator's move to the other temperatures, over the octaves that are asked for.</summary>
    public static ImmutableArray<TemperatureShift> Shifts(Voice voice, OscillatorSheet[] sheets) =>
        [.. sheets.SelectMany(sheet => sheet.Curves.Skip(1).Select(curve => Shift(voice.Limits, sheet, curve)))];

    private static TemperatureShift Shift(Limits limits, OscillatorSheet sheet, TrackingCurve curve)
    {
        double octave = sheet.Oscillator.Spec.VoltsPerOctave;
        (double Volts, double Cents)[] moves =
        [
            .. curve
                .Points.Zip(sheet.Curves[0].Points, (warm, bench) => (Volts: warm.ControlVolts, Cents: warm.Cents - bench.Cents))
                .Where(move => limits.Asks(move.Volts, octave)),
        ];
        (double volts, double cents) = moves.MaxBy(move => Math.Abs(move.Cents));
        double slope = (moves[^1].Cents - moves[0].Cents) / ((moves[^1].Volts - moves[0].Volts) / octave);
        double kelvins = curve.Kelvin - Prover.BenchKelvin;
        return new(sheet.Oscillator.Name, curve.Kelvin, cents, volts, cents / kelvins, slope, Cause(sheet, volts, kelvins, cents));
    }

    private static string Cause(OscillatorSheet sheet, double volts, double kelvins, double cents)
    {
        (TempcoLine Line, double Cents)[] lines = Lines(sheet, volts, kelvins);
        if (IsUncancelled(lines, cents))
            return "kT/q of the converter and the semiconductors' other laws, which nothing of their size cancels";
        (TempcoLine line, double largest) = lines[0];
        return Math.Abs(largest) > 3 * Math.Abs(cents)
            ? $"what {line.Part.Name} ({line.Tempco * 1e6:F0} ppm/K) does not cancel of the converter's own law"
            : $"{line.Part.Name}, tempco {line.Tempco * 1e6:F0} ppm/K";
    }

    private static (TempcoLine Line, double Cents)[] Lines(OscillatorSheet sheet, double volts, double kelvins)
    {
        int note = sheet.Budget.NoteNearest(volts);
        return
        [
            .. sheet
                .Drifts.Select(line => (line, line.CentsPerKelvin[note] * kelvins))
                .OrderByDescending(pair => Math.Abs(pair.Item2)),
        ];
    }

    private static Reason Explain(OscillatorSheet sheet, TemperatureShift shift)
    {
        double kelvins = shift.Kelvin - Prover.BenchKelvin;
        (TempcoLine Line, double Cents)[] lines = Lines(sheet, shift.AtControlVolts, kelvins);
        double rest = shift.WorstCents - lines.Sum(line => line.Cents);
        return Reasons.Figure(
            $"{shift.Oscillator} at {shift.AtControlVolts:G3} V from 25 °C to {shift.Kelvin - 273.15:F0} °C",
            shift.WorstCents,
            "cents",
            [
                .. lines
                    .Where(line => Math.Abs(line.Cents) >= 0.01)
                    .Select(line => new Reason(
                        $"{line.Line.Part.Name}: tempco",
                        line.Cents,
                        "cents",
                        new(line.Line.Part.Name, "tempco", line.Line.Tempco * 1e6, "ppm/K", line.Cents / (line.Line.Tempco * 1e6) * 100, "100 ppm/K"),
                        []
                    )),
                Reasons.Figure("semiconductors: kT/q of the converter, saturation and leakage currents, thresholds (and second order)", rest, "cents"),
            ]
        );
    }
}
