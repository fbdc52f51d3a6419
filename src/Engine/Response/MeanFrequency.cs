using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Pitch;
using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Response;

/// <summary>
/// The mean frequency of an oscillator under a sine at an input, counted in the circuit in motion. The count of periods is
/// fitted as a straight line in time and the modulator's first harmonics: the line's slope is the mean, without the swing
/// that a count over whole cycles would leave at its ends.
/// </summary>
internal static class MeanFrequency
{
    private const int Harmonics = 6;
    private const int Settling = 8; // carrier periods, and two cycles of the modulator at least
    private const int Counted = 72;
    private const int Parts = 16; // between two looks at whether it was cancelled

    /// <summary>Counts it.</summary>
    /// <param name="voice">With the source plugged in.</param>
    /// <param name="oscillator">Whose frequency.</param>
    /// <param name="volts">On the keyboard, V.</param>
    /// <param name="peak">Of the sine, V.</param>
    /// <param name="modulator">Its frequency, Hz.</param>
    /// <param name="carrier">About what is counted, Hz.</param>
    public static (double Hertz, double Error, SolveFailure? Failure) Count(PlayedVoice voice, Oscillator oscillator, double volts, double peak, double modulator, double carrier)
    {
        (RestState? state, SolveFailure? failure) = voice.Rest(volts);
        if (state is null)
            return (double.NaN, double.NaN, failure);
        string source = $"{Drive.Source}/V";
        (voice.Circuit[source, "amplitude"], voice.Circuit[source, "frequency"]) = (peak, modulator);
        double from = Math.Max(Settling / carrier, 2 / modulator);
        double end = from + Math.Max(Counted / carrier, 6 / modulator);
        Transient run = new(voice.Circuit, voice.Accuracy, [oscillator.Probe]);
        run.Start(state.X);
        for (int part = 1; part <= Parts; part++)
        {
            voice.Cancel.ThrowIfCancellationRequested();
            if (run.RunTo(end * part / Parts) is { } broken)
                return (double.NaN, double.NaN, broken);
        }
        voice.Circuit[source, "amplitude"] = 0;
        (double hertz, double error) = Fit([.. run.Crossings.Select(crossing => crossing.Time).Where(time => time >= from)], modulator);
        return (hertz, error, null);
    }

    /// <summary>The mean frequency of moments that a sine of that frequency moves, and its standard error; NaN when there are
    /// fewer than twice the unknowns.</summary>
    public static (double Hertz, double Error) Fit(double[] times, double modulator)
    {
        int unknowns = 2 + 2 * Harmonics;
        if (times.Length < 2 * unknowns)
            return (double.NaN, double.NaN);
        double start = times[0];
        Matrix<double> rows = Matrix<double>.Build.Dense(times.Length, unknowns, (i, j) => Column(times[i] - start, j, modulator));
        Vector<double> counts = Vector<double>.Build.Dense(times.Length, i => i);
        Vector<double> fitted = rows.QR().Solve(counts);
        double variance = (rows * fitted - counts).PointwisePower(2).Sum() / (times.Length - unknowns);
        double share = (rows.TransposeThisAndMultiply(rows)).Inverse()[1, 1];
        return (fitted[1], Math.Sqrt(variance * share));
    }

    private static double Column(double time, int column, double modulator)
    {
        if (column < 2)
            return column == 0 ? 1 : time;
        double turn = 2 * Math.PI * modulator * (column / 2) * time;
        return column % 2 == 0 ? Math.Cos(turn) : Math.Sin(turn);
    }
}
