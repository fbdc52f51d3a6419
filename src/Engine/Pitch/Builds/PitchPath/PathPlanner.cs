using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>Makes the <see cref="PathPlan"/>s of a voice's oscillators.</summary>
internal static class PathPlanner
{
    // What couples to so little is dropped, cents.
    private const double Couples = 2e-4;

    /// <summary>One for each oscillator; the voice comes back at the first temperature.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="answers">How it answers at rest.</param>
    /// <param name="draws">What differs between builds.</param>
    /// <param name="trimmers">The voice's.</param>
    /// <param name="inBuilds">By oscillator: what parameters do to its timing current in a few builds, cents.</param>
    public static PathPlan[] Plan(PlayedVoice voice, RestAnswers answers, DrawPlan draws, PartPlace[] trimmers, double[][] inBuilds)
    {
        PartAlone[] bendable = LiveParts.Bendable(voice.Circuit);
        PathPlan[] plans = [.. voice.Oscillators.Select((oscillator, o) => Plan(new WholePath(voice.Circuit, answers, draws, trimmers, bendable, oscillator, inBuilds[o])))];
        voice.Circuit.SetTemperature(answers.Points.Kelvins[0]);
        return plans;
    }

    // The smallest system that agrees with the whole circuit.
    private static PathPlan Plan(WholePath path)
    {
        for (double threshold = Couples; threshold > 1e-5 * Couples; threshold /= 2)
            if (new ReducedSystem(path, threshold) is { IsWhole: true } reduced)
                return reduced.Plan();
        ReducedSystem all = new(path, 0);
        return all.IsWhole ? all.Plan() : throw new InvalidOperationException($"{path.Oscillator.Name}: its pitch path cannot be told from the rest of the voice");
    }
}
