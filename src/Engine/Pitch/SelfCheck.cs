using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Pitch;

/// <summary>Compares the short cuts of a proof with the long way round, on this very voice.</summary>
internal sealed class SelfCheck(PlayedVoice voice, OscillatorSheet[] sheets, int threads)
{
    private const double Tighter = 0.01;

    /// <summary>Every comparison, each with the largest disagreement found.</summary>
    public ImmutableArray<AccuracyNote> Run()
    {
        Func<AccuracyNote>[] checks = [WholeVoice, Integration, Sensitivity, Truncation];
        AccuracyNote[] notes = new AccuracyNote[checks.Length];
        ParallelWork.Each(checks.Length, threads, i => notes[i] = checks[i](), voice.Cancel);
        return [.. notes];
    }

    // One oscillator at a time against all of them moving together on the shared supply and link.
    private AccuracyNote WholeVoice()
    {
        PlayedVoice twin = voice.Twin();
        double volts = Math.Round(voice.MiddleVolts);
        (VoiceReading? reading, _) = twin.Read(volts);
        double worst = reading is null ? double.NaN : 0;
        for (int i = 0; i < sheets.Length && reading is not null; i++)
        {
            double together = twin.Oscillators[i].Cents(volts, reading.Hertz[i]);
            worst = Math.Max(worst, Math.Abs(together - CentsAt(sheets[i], volts)));
        }
        return new(
            "each oscillator read with the others at rest",
            worst,
            "cents",
            $"the whole voice in motion at {volts:G3} V, all oscillators on the shared supply and link"
        );
    }

    private static double CentsAt(OscillatorSheet sheet, double volts)
    {
        foreach (TrackingPoint point in sheet.Curves[0].Points)
            if (Math.Abs(point.ControlVolts - volts) < 1e-9)
                return point.Cents;
        return double.NaN;
    }

    // The default step control against one a hundred times tighter, at the ends and the middle of the keyboard.
    private AccuracyNote Integration()
    {
        double[] notes = [.. sheets[0].Curves[0].Points.Select(point => point.ControlVolts)];
        PlayedVoice tight = voice.Twin(voice.Accuracy with { Relative = voice.Accuracy.Relative * Tighter });
        SoloOscillator solo = new(tight, tight.Oscillators[0]);
        double worst = solo.Prepare(tight.MiddleVolts) is null ? 0 : double.NaN;
        foreach (double volts in (double[])[notes[0], notes[notes.Length / 2], notes[^1]])
        {
            (double hertz, _) = solo.Read(volts);
            worst = Math.Max(worst, Math.Abs(solo.Oscillator.Cents(volts, hertz) - CentsAt(sheets[0], volts)));
        }
        return new("the time steps", worst, "cents", $"steps held to a hundredth of the error, {sheets[0].Oscillator.Name}, three notes");
    }

    // The largest tolerance of the budget: its part really moved, against what its slope foretells.
    private AccuracyNote Sensitivity()
    {
        const double Move = 1e-3;
        OscillatorSheet sheet = sheets[0];
        BudgetLine? line = sheet.Budget.Spread.FirstOrDefault(l =>
            l.Parameter == "tolerance" && l.Part.StartsWith(sheet.Oscillator.Name + "/", StringComparison.Ordinal)
        );
        if (line is null)
            return new("effects of parts by slopes", 0, "%", "no part of this voice has a tolerance that matters");
        PlayedVoice twin = voice.Twin();
        SoloOscillator solo = new(twin, twin.Oscillators[0]);
        if (solo.Prepare(twin.MiddleVolts) is not null)
            return new("effects of parts by slopes", double.NaN, "%", "a part really moved");
        double volts = sheet.Budget.ControlVolts[sheet.Budget.ControlVolts.Length / 2];
        double value = twin.Circuit[line.Part, "value"];
        double[] read = [.. ((double[])[1 - Move, 1 + Move]).Select(factor => ReadWith(twin, solo, line.Part, value * factor, volts))];
        twin.Circuit[line.Part, "value"] = value;
        solo.TakeParameters();
        (double[]? slopes, _, _) = new Budgets.PitchSlopes(twin, solo).At(volts, [new(twin.Circuit.Find(line.Part), "value")]);
        double foretold = slopes is null ? double.NaN : slopes[0] * value * 2 * Move;
        double error = 100 * Math.Abs((read[1] - read[0]) / foretold - 1);
        return new("effects of parts by slopes", error, "%", $"{line.Part} moved by 0.1 % either way and the period read again");
    }

    private static double ReadWith(PlayedVoice twin, SoloOscillator solo, string part, double value, double volts)
    {
        twin.Circuit[part, "value"] = value;
        solo.TakeParameters();
        (double hertz, _) = solo.Read(volts);
        return solo.Oscillator.Cents(volts, hertz);
    }

    private AccuracyNote Truncation() =>
        new(
            "slopes along the orbit",
            100 * sheets.Max(sheet => sheet.Truncation),
            "%",
            "what an adjoint still held at the start of the run, against its largest size"
        );
}
