using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Cores;

namespace Consort.Engine.Pitch.Builds;

/// <summary>What the transients of a trimmed voice gave, and what is still to be read: every oscillator's frequency at every
/// temperature and note.</summary>
internal sealed class DesignReadings
{
    private readonly Dictionary<(int Oscillator, double Kelvin, double Volts), double> known = [];

    /// <summary>For temperatures (the bench's first, K) and keyboard voltages (V), to which those are added at which the voice's
    /// oscillators are trimmed.</summary>
    public DesignReadings(PlayedVoice voice, IEnumerable<double> kelvins, IEnumerable<double> volts)
    {
        Kelvins = [.. kelvins];
        IEnumerable<double> trimmed = voice.Oscillators.SelectMany(o => o.Member.Module.Trims).Where(s => s.Purpose != TrimPurpose.Other).SelectMany(step => step.Voltages);
        Volts = [.. volts.Concat(trimmed).Distinct().Order()];
        Hertz = [.. voice.Oscillators.Select(_ => Kelvins.Select(_ => new double[Volts.Length]).ToArray())];
    }

    /// <summary>Temperatures, the bench's first, K.</summary>
    public double[] Kelvins { get; }

    /// <summary>Keyboard voltages in rising order, V.</summary>
    public double[] Volts { get; }

    /// <summary>Frequencies by oscillator, temperature and note, Hz; all of them once they are complete.</summary>
    public double[][][] Hertz { get; }

    /// <summary>Takes what was read before.</summary>
    public void Take(int oscillator, TrackingCurve curve)
    {
        foreach (TrackingPoint point in curve.Points)
            known[(oscillator, curve.Kelvin, point.ControlVolts)] = point.MeasuredHertz;
    }

    /// <summary>Reads what is missing.</summary>
    public SolveFailure? Complete(PlayedVoice voice, int threads) => Read(voice, threads, Enumerable.Range(0, Kelvins.Length));

    /// <summary>Reads what is missing at the bench's temperature.</summary>
    public SolveFailure? CompleteBench(PlayedVoice voice) => Read(voice, 1, [0]);

    private SolveFailure? Read(PlayedVoice voice, int threads, IEnumerable<int> kelvins)
    {
        SolveFailure?[] failures = new SolveFailure?[Hertz.Length];
        ParallelWork.Each(Hertz.Length, threads, o => failures[o] = ReadOne(voice, o, kelvins), voice.Cancel);
        return failures.FirstOrDefault(failure => failure is not null);
    }

    /// <summary>Takes it that an oscillator's core drifts as one of its kind does in another voice of the same temperatures: with
    /// its own timing current, by the same share beside it. False when that one was not read at all of this one's notes.</summary>
    /// <param name="oscillator">Which one.</param>
    /// <param name="currents">Its timing current by temperature and note, A.</param>
    /// <param name="alike">The other voice's readings.</param>
    /// <param name="other">Which one there.</param>
    /// <param name="otherCurrents">Its timing current there.</param>
    public bool DriftAs(int oscillator, double[][] currents, DesignReadings alike, int other, double[][] otherCurrents)
    {
        int[] at = [.. Volts.Select(volts => Array.IndexOf(alike.Volts, volts))];
        if (at.Contains(-1))
            return false;
        for (int k = 1; k < Kelvins.Length; k++)
            for (int n = 0; n < at.Length; n++)
            {
                double core = alike.Hertz[other][k][at[n]] / alike.Hertz[other][0][at[n]] * otherCurrents[0][at[n]] / otherCurrents[k][at[n]];
                Hertz[oscillator][k][n] = Hertz[oscillator][0][n] * core * currents[k][n] / currents[0][n];
            }
        return true;
    }

    /// <summary>Reads what is missing of one oscillator at some of the temperatures.</summary>
    public SolveFailure? ReadOne(PlayedVoice voice, int o, IEnumerable<int> kelvins)
    {
        (int K, int N)[] missing = [.. from k in kelvins from n in Enumerable.Range(0, Volts.Length) where !known.TryGetValue((o, Kelvins[k], Volts[n]), out Hertz[o][k][n]) select (k, n)];
        if (missing.Length == 0)
            return null;
        PlayedVoice twin = voice.Twin();
        SoloOscillator solo = new(twin, twin.Oscillators[o]);
        if (solo.Prepare(twin.MiddleVolts) is { } unready)
            return unready;
        foreach ((int k, int n) in missing)
        {
            if (twin.Circuit.Temperature != Kelvins[k])
            {
                twin.Circuit.SetTemperature(Kelvins[k]);
                solo.TakeParameters();
            }
            (Hertz[o][k][n], SolveFailure? failure) = solo.Read(Volts[n]);
            if (failure is not null)
                return failure;
        }
        return null;
    }
}
