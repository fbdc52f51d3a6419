using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;

namespace Consort.Engine.Sound.Drift;

/// <summary>Reads an oscillator's pitch at the temperatures of a course, its trimmers as they stand.</summary>
internal static class DriftReader
{
    private const double Least = 0.01; // K: a narrower course is read over this width

    /// <summary>At each voltage; the oscillator is left at the temperature that it had.</summary>
    public static (DriftLaw? Law, SolveFailure? Failure) Read(PlayedVoice voice, SoloOscillator solo, (double Low, double High) kelvins, IReadOnlyList<double> volts)
    {
        double own = voice.Circuit.Temperature;
        (double low, double high) = (kelvins.Low, Math.Max(kelvins.High, kelvins.Low + Least));
        double[] at = [low, 0.5 * (low + high), high];
        try
        {
            List<(double, ImmutableArray<double>)> curves = [];
            double[][] hertz = new double[1 + at.Length][];
            for (int k = 0; k <= at.Length; k++)
            {
                BringTo(voice, solo, k == 0 ? own : at[k - 1]);
                hertz[k] = new double[volts.Count];
                for (int i = 0; i < volts.Count; i++)
                {
                    (hertz[k][i], SolveFailure? failure) = solo.Read(volts[i]);
                    if (failure is not null)
                        return (null, failure);
                }
            }
            for (int i = 0; i < volts.Count; i++)
                if (hertz.All(read => double.IsFinite(read[i])))
                    curves.Add((volts[i], [.. Enumerable.Range(1, at.Length).Select(k => 1200 * Math.Log2(hertz[k][i] / hertz[0][i]))]));
            return curves.Count > 0
                ? (new([.. at], [.. curves]), null)
                : (null, new($"{solo.Oscillator.Name} does not oscillate at {low - 273.15:0.#} to {high - 273.15:0.#} °C", solo.Oscillator.Spec.Net, 0, 0));
        }
        finally
        {
            BringTo(voice, solo, own);
        }
    }

    private static void BringTo(PlayedVoice voice, SoloOscillator solo, double kelvin)
    {
        if (voice.Circuit.Temperature == kelvin)
            return;
        voice.Circuit.SetTemperature(kelvin);
        solo.TakeParameters();
    }
}
