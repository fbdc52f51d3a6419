using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.PitchPath;

namespace Consort.Engine.Pitch.Builds;

/// <summary>One build of a voice as its whole circuit: every part at its drawn value, every trimmer where it came to stand.</summary>
internal static class BuiltVoice
{
    /// <summary>Makes it of a voice in its design state; the design is left as it is.</summary>
    /// <param name="design">Prepared.</param>
    /// <param name="draws">All that differs between builds.</param>
    /// <param name="points">Where the builds' numbers come from.</param>
    /// <param name="build">Its number.</param>
    /// <param name="trimmers">Its trimmers.</param>
    /// <param name="positions">Where they stand, 0 to 1.</param>
    public static PlayedVoice Make(PlayedVoice design, DrawPlan draws, UnitPoints points, long build, PitchTrimmer[] trimmers, double[] positions)
    {
        PlayedVoice built = design.Twin();
        double[] departures = new double[draws.Parameters.Length];
        draws.Departures(points, build, 1, departures);
        for (int t = 0; t < trimmers.Length; t++)
            built.Circuit[trimmers[t].Place.Bank.Parts[trimmers[t].Place.Index].Name, "position"] = positions[t];
        CornerWeights.Build(built, draws, departures);
        return built;
    }

    /// <summary>Pitch errors of one oscillator of a built voice, each from a full transient, cents.</summary>
    /// <param name="built">The voice; its temperature changes.</param>
    /// <param name="oscillator">Which one.</param>
    /// <param name="kelvin">Temperature, K.</param>
    /// <param name="volts">Notes, V.</param>
    public static (double[] Cents, SolveFailure? Failure) Read(PlayedVoice built, int oscillator, double kelvin, IReadOnlyList<double> volts)
    {
        built.Circuit.SetTemperature(kelvin);
        SoloOscillator solo = new(built, built.Oscillators[oscillator]);
        if (solo.Prepare(built.MiddleVolts) is { } unready)
            return ([], unready);
        double[] cents = new double[volts.Count];
        for (int i = 0; i < cents.Length; i++)
        {
            (double hertz, SolveFailure? failure) = solo.Read(volts[i]);
            if (failure is not null)
                return ([], failure);
            cents[i] = solo.Oscillator.Cents(volts[i], hertz);
        }
        return (cents, null);
    }
}
