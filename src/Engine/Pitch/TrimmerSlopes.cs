using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

/// <summary>
/// By how much an oscillator's pitch answers to its trimmers, at every note of its trimming sheet. Pitch follows the timing
/// current, which the operating point gives; what that does not show (a trimmer inside the core) is read from a transient and
/// grows with frequency.
/// </summary>
internal sealed class TrimmerSlopes(PlayedVoice voice, SoloOscillator solo, TrimStep[] steps, double[] volts)
{
    private const double Move = 0.01; // of a trimmer's way

    /// <summary>By note and trimmer, cents by position.</summary>
    /// <param name="cents">By note: how far off it is where the trimmers stand.</param>
    public (double[,]? Slopes, SolveFailure? Failure) Read(double[] cents)
    {
        double[,] found = new double[volts.Length, steps.Length];
        for (int j = 0; j < steps.Length; j++)
        {
            (double[]? moves, SolveFailure? failure) = steps[j].Purpose == TrimPurpose.HighEnd ? InMotion(steps[j], cents) : AtRest(steps[j]);
            if (moves is null)
                return (null, failure);
            for (int i = 0; i < volts.Length; i++)
                found[i, j] = moves[i];
        }
        return (found, null);
    }

    /// <summary>The timing current at rest, A, by note.</summary>
    public (double[]? Amperes, SolveFailure? Failure) TimingCurrents()
    {
        double[] amperes = new double[volts.Length];
        for (int i = 0; i < volts.Length; i++)
        {
            (RestState? state, SolveFailure? failure) = voice.Rest(volts[i]);
            if (state is null)
                return (null, failure);
            amperes[i] = TimingCapacitor.Size(voice.Circuit, solo.Oscillator.TimingCapacitor, state);
        }
        return (amperes, null);
    }

    private (double[]? Moves, SolveFailure? Failure) AtRest(TrimStep step)
    {
        double position = solo.Position(step.Trimmer);
        double low = Math.Max(0, position - Move), high = Math.Min(1, position + Move);
        (double[]? before, SolveFailure? failed) = CurrentsAt(step, low);
        (double[]? after, SolveFailure? failedAfter) = CurrentsAt(step, high);
        solo.Set(step.Trimmer, "position", position);
        return before is null || after is null
            ? (null, failed ?? failedAfter)
            : ([.. before.Zip(after, (b, a) => 1200 * Math.Log2(a / b) / (high - low))], null);
    }

    private (double[]? Amperes, SolveFailure? Failure) CurrentsAt(TrimStep step, double position)
    {
        solo.Set(step.Trimmer, "position", position);
        return TimingCurrents();
    }

    private (double[]? Moves, SolveFailure? Failure) InMotion(TrimStep step, double[] cents)
    {
        double position = solo.Position(step.Trimmer);
        double other = position < 0.5 ? position + 0.2 : position - 0.2;
        solo.Set(step.Trimmer, "position", other);
        (double hertz, SolveFailure? failure) = solo.Read(step.High);
        solo.Set(step.Trimmer, "position", position);
        if (failure is not null)
            return (null, failure);
        double slope = (solo.Oscillator.Cents(step.High, hertz) - cents[Array.IndexOf(volts, step.High)]) / (other - position);
        double top = solo.Oscillator.IdealHertz(step.High);
        return ([.. volts.Select(v => slope * solo.Oscillator.IdealHertz(v) / top)], null);
    }
}
