using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>
/// What parameters do to timing currents in a few builds whose trimmers stand anywhere: a resistor at a centred trimmer's
/// wiper carries nothing in the design, and a good deal in a build.
/// </summary>
internal static class CornerWeights
{
    private const int Builds = 6;
    private const ulong Seed = 20260731;
    private const double TrimmersWithin = 0.35; // of the middle

    /// <summary>Largest effect of one half-width of every drawn parameter, cents, by oscillator.</summary>
    public static (double[][]? Weights, SolveFailure? Failure) Find(PlayedVoice voice, DrawPlan draws, PartPlace[] trimmers, double[] kelvins)
    {
        PlayedVoice twin = voice.Twin();
        double[] departures = new double[draws.Parameters.Length];
        double[][] weights = [.. voice.Oscillators.Select(_ => new double[departures.Length])];
        RandomPoints points = new(Seed);
        RandomBits turns = new(Seed);
        for (int build = 0; build < Builds; build++)
        {
            draws.Departures(points, build, 1, departures);
            twin.Circuit.SetTemperature(kelvins[build % kelvins.Length]);
            Build(twin, draws, departures);
            for (int t = 0; t < trimmers.Length; t++)
            {
                double turn = 2 * RandomBits.Share(turns.At((ulong)(build * trimmers.Length + t))) - 1;
                twin.Circuit[trimmers[t].Bank.Parts[trimmers[t].Index].Name, "position"] = 0.5 + TrimmersWithin * turn;
            }
            (RestState? state, SolveFailure? failure) = twin.Rest(voice.MiddleVolts);
            if (state is null)
                return (null, failure);
            Weigh(twin, draws, state, weights);
        }
        return (weights, null);
    }

    /// <summary>Makes a voice into a build; its temperature stays.</summary>
    public static void Build(PlayedVoice voice, DrawPlan draws, ReadOnlySpan<double> departures)
    {
        for (int p = 0; p < departures.Length; p++)
        {
            DrawnParameter drawn = draws.Parameters[p];
            PartPlace place = voice.Circuit.Find(drawn.Part.Name);
            place.Bank.Numbers(drawn.Word)[place.Index] = drawn.Value(departures[p]);
        }
        voice.Circuit.SetTemperature(voice.Circuit.Temperature);
    }

    private static void Weigh(PlayedVoice twin, DrawPlan draws, RestState state, double[][] weights)
    {
        if (RestSensitivity.At(twin.Circuit, state) is not { } sensitivity)
            return;
        double[][] adjoints =
        [
            .. twin.Oscillators.Select(oscillator =>
            {
                int branch = TimingCapacitor.Branch(twin.Circuit, oscillator.TimingCapacitor);
                return sensitivity.Adjoint((branch, Cents.PerNeper / state.X[branch]));
            }),
        ];
        PartSlopes slopes = new(twin.Circuit);
        for (int p = 0; p < draws.Parameters.Length; p++)
        {
            DrawnParameter drawn = draws.Parameters[p];
            RowSlopes own = slopes.At(twin.Circuit.Find(drawn.Part.Name), drawn.Word, state.X);
            for (int o = 0; o < adjoints.Length; o++)
                weights[o][p] = Math.Max(weights[o][p], Math.Abs(drawn.HalfWidth * own.Project(adjoints[o])));
        }
    }
}
