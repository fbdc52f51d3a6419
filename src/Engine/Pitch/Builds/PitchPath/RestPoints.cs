using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>Where the design itself rests, timing capacitors held, at every temperature and note of interest: the points
/// about which builds are solved.</summary>
internal sealed class RestPoints
{
    private RestPoints(double[] kelvins, double[] volts)
    {
        (Kelvins, Volts) = (kelvins, volts);
        X = [.. kelvins.Select(_ => new double[volts.Length][])];
        Slopes = [.. kelvins.Select(_ => new double[volts.Length][])];
    }

    /// <summary>Temperatures, K; the bench's first.</summary>
    public double[] Kelvins { get; }

    /// <summary>Keyboard voltages in rising order, V.</summary>
    public double[] Volts { get; }

    /// <summary>The unknowns, by temperature and note.</summary>
    public double[][][] X { get; }

    /// <summary>∂f/∂x by slot, by temperature and note.</summary>
    public double[][][] Slopes { get; }

    /// <summary>The note nearest to the middle.</summary>
    public int Middle => Volts.Length / 2;

    /// <summary>Solves them all; the voice is at the first temperature afterwards.</summary>
    public static (RestPoints? Points, SolveFailure? Failure) Find(PlayedVoice voice, double[] kelvins, double[] volts)
    {
        RestPoints points = new(kelvins, volts);
        for (int k = kelvins.Length - 1; k >= 0; k--)
        {
            voice.Circuit.SetTemperature(kelvins[k]);
            for (int n = 0; n < volts.Length; n++)
            {
                (RestState? state, SolveFailure? failure) = voice.Rest(volts[n]);
                if (state is null)
                    return (null, failure);
                points.X[k][n] = state.X;
                state.X.CopyTo(voice.Circuit.Pass.X, 0);
                voice.Circuit.Evaluate(0, Regime.Rest);
                points.Slopes[k][n] = (double[])voice.Circuit.Pass.G.Clone();
            }
        }
        return (points, null);
    }
}
