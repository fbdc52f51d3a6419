using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;

namespace Consort.Engine.Sound.Noise;

/// <summary>Noise at an output beside its wave.</summary>
/// <param name="Output">The jack's label.</param>
/// <param name="Volts">Root mean square from <see cref="LowHertz"/> to <see cref="HighHertz"/>, V.</param>
/// <param name="Cause">The source that brings most of it.</param>
/// <param name="CauseShare">Its share of the power.</param>
public sealed record OutputNoise(string Output, double Volts, string Cause, double CauseShare)
{
    /// <summary>Lower end of the band, Hz.</summary>
    public const double LowHertz = 20;

    /// <summary>Upper end of the band, Hz.</summary>
    public const double HighHertz = 20_000;

    /// <summary>dB against 1 V.</summary>
    public double DbVolts => Spectra.Decibels.Of(Volts);

    /// <summary>Of white noise that is as strong in the band, V/√Hz.</summary>
    public double Density => Volts / Math.Sqrt(HighHertz - LowHertz);
}

/// <summary>
/// Reads the noise floor of an oscillator's outputs: its circuit is stopped at even phases of a period, its timing capacitor
/// held (what noise does to that one's charge moves the period, and is counted there), and the small-signal noise of those
/// moments is averaged. Left out: noise that the wave's own motion moves to other frequencies.
/// </summary>
internal static class OutputNoiseReader
{
    private const int Phases = 16;
    private const int PerDecade = 5;
    private const double Held = 1e6;

    /// <summary>Of all outputs at one note.</summary>
    public static (ImmutableArray<OutputNoise> Noise, SolveFailure? Failure) Read(PlayedVoice voice, SoloOscillator solo, IReadOnlyList<string> outputs, double volts)
    {
        (double[]? x, SolveFailure? failure) = solo.Start(volts);
        if (x is null)
            return ([], failure);
        double ideal = 1 / solo.Oscillator.IdealHertz(volts);
        (TapedPeriods? taped, failure) = TapedPeriods.Follow(solo.Circuit, solo.TapedRun(), x, 3, PlayedVoice.MostPeriods * ideal, _ => ideal / (4 * Phases));
        if (taped is null)
            return ([], failure ?? new("it does not oscillate, so its noise cannot be read", solo.Oscillator.Spec.Net, PlayedVoice.MostPeriods * ideal, 0));
        (ImmutableArray<Channel> channels, _) = Channel.Find(voice.Voice, solo.Circuit, outputs.Select(output => $"{solo.Oscillator.Name}/{output}"));
        string capacitor = solo.Oscillator.TimingCapacitor;
        double value = solo.Circuit[capacitor, "value"];
        solo.Circuit[capacitor, "value"] = Held * value;
        NoiseSum[] sums = [.. outputs.Select(_ => new NoiseSum())];
        foreach (TapedStep step in Moments(taped))
        {
            taped.Run.Tape!.Restore(step);
            SmallSignal signal = new(solo.Circuit, new(step.Stages[^1], "in motion", 0), step.End);
            for (int k = 0; k <= 3 * PerDecade; k++)
                for (int i = 0; i < sums.Length; i++)
                    sums[i].Add(signal.Noise(OutputNoise.LowHertz * Math.Pow(10, (double)k / PerDecade), channels[i].Tip, channels[i].Clip), k is 0 or 3 * PerDecade);
        }
        solo.Circuit[capacitor, "value"] = value;
        solo.Circuit.ForgetSwitches();
        return ([.. outputs.Select((output, i) => sums[i].Result(output))], null);
    }

    // The steps that hold even phases of the last period; one that is caught in a decision tells nothing of the rest.
    private static IEnumerable<TapedStep> Moments(TapedPeriods taped)
    {
        TapedStep[] steps = [.. taped.Run.Tape!.Steps.Skip(taped.Steps[^2] + 1)];
        for (int i = 0; i < Phases; i++)
        {
            double at = taped.Start + (i + 0.5) / Phases * taped.Period;
            TapedStep nearest = steps.First(step => step.End >= at);
            if (nearest.Length > taped.Period / (40 * Phases))
                yield return nearest;
        }
    }

    /// <summary>Sums densities over moments and, by the trapezoid of their logarithms' axis, over frequency.</summary>
    private sealed class NoiseSum
    {
        private readonly Dictionary<string, double> shares = [];
        private double sum;
        private double moments;

        public void Add(NoiseReading? reading, bool isEnd)
        {
            if (reading is null || !double.IsFinite(reading.Density))
                return;
            double width = reading.Hertz * Math.Log(10) / PerDecade * (isEnd ? 0.5 : 1);
            moments += width;
            sum += width * reading.Density * reading.Density;
            foreach (NoiseShare share in reading.Shares)
                shares[share.Source] = shares.GetValueOrDefault(share.Source) + width * share.Density;
        }

        public OutputNoise Result(string output)
        {
            if (!(moments > 0 && sum > 0))
                return new(output, 0, "", 0);
            (string cause, double most) = shares.MaxBy(pair => pair.Value);
            return new(output, Math.Sqrt(sum / moments * (OutputNoise.HighHertz - OutputNoise.LowHertz)), cause, most / sum);
        }
    }
}
