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

    /// <summary>True to read what temperature does to one oscillator of each kind, and take it that others of that kind drift as
    /// it does: for a plan of many ways. Alike oscillators of the quartet drift alike within 0.02 cent.</summary>
    public bool AlikeDrift { get; init; }

    /// <summary>Takes what was read before.</summary>
    public void Take(int oscillator, TrackingCurve curve)
    {
        foreach (TrackingPoint point in curve.Points)
            known[(oscillator, curve.Kelvin, point.ControlVolts)] = point.MeasuredHertz;
    }

    /// <summary>Reads what is missing.</summary>
    public SolveFailure? Complete(PlayedVoice voice, int threads)
    {
        int[] firsts = AlikeDrift ? CoreKind.Firsts(voice) : [.. Enumerable.Range(0, Hertz.Length)];
        SolveFailure?[] failures = new SolveFailure?[Hertz.Length];
        ParallelWork.Each(Hertz.Length, threads, o => failures[o] = CompleteOne(voice.Twin(), o, firsts[o] == o ? Kelvins.Length : 1), voice.Cancel);
        if (failures.FirstOrDefault(failure => failure is not null) is { } failed)
            return failed;
        for (int o = 0; o < firsts.Length; o++)
            if (firsts[o] != o)
                DriftAs(Hertz[firsts[o]], Hertz[o]);
        return null;
    }

    private static void DriftAs(double[][] first, double[][] other)
    {
        for (int k = 1; k < other.Length; k++)
            for (int n = 0; n < other[k].Length; n++)
                other[k][n] = other[0][n] * first[k][n] / first[0][n];
    }

    private SolveFailure? CompleteOne(PlayedVoice twin, int o, int kelvins)
    {
        SoloOscillator? solo = null;
        for (int k = 0; k < kelvins; k++)
            for (int n = 0; n < Volts.Length; n++)
                if (known.TryGetValue((o, Kelvins[k], Volts[n]), out double hertz))
                    Hertz[o][k][n] = hertz;
                else
                {
                    if (solo is null)
                    {
                        solo = new(twin, twin.Oscillators[o]);
                        if (solo.Prepare(twin.MiddleVolts) is { } unready)
                            return unready;
                    }
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
