using System.Globalization;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Bench;

/// <summary>Steps a cycle and the period's error for several step controls, against one a thousand times tighter.</summary>
internal static class StepAccuracy
{
    public static void Run(string folder, double[] notes)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(folder);
        PlayedVoice played = PlayedVoice.Of(voice!);
        _ = played.Prepare();
        SoloOscillator solo = new(played, played.Oscillators[0]);
        _ = solo.Prepare(played.MiddleVolts);
        Console.WriteLine(folder);
        foreach (double volts in notes)
        {
            (double tight, _, _) = Period(solo, volts, new(1e-6), Tableau.Fourth);
            foreach ((StepMethod method, double relative) in ((StepMethod, double)[])[(Tableau.Fourth, 1e-4), (Tableau.Fourth, 1e-3), (Mixed.Fourth, 1e-2), (Mixed.Fourth, 3e-2), (Mixed.Fourth, 1e-1)])
            {
                (double period, double steps, double passes) = Period(solo, volts, new(relative, Linear: method is Mixed), method);
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{volts} V {method.Name,-12} {relative:E0}: {steps,5:F0} steps, {passes,6:F0} passes a cycle, {1200 * Math.Log2(period / tight):E1} cents"));
            }
        }
    }

    private static (double Period, double Steps, double Passes) Period(SoloOscillator solo, double volts, Accuracy accuracy, StepMethod method)
    {
        (double[]? x, _) = solo.Start(volts);
        Transient run = new(solo.Circuit, accuracy, [solo.Probe], method);
        run.Start(x!);
        if (run.RunTo(5 / solo.Oscillator.IdealHertz(volts)) is { } f) { Console.WriteLine(f); return (double.NaN, 0, 0); }
        IReadOnlyList<Crossing> c = run.Crossings;
        return (c.Count < 2 ? double.NaN : c[^1].Time - c[^2].Time, run.Steps / 5.0, run.Passes / 5.0);
    }
}
