using Consort.Engine.Pitch.Builds.Cores;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.PitchPath;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds;

/// <summary>Reads the pitch of one oscillator in builds, in lanes: its timing current from the true circuit, and what its core
/// makes of it. One thread at a time.</summary>
internal sealed class BuildReader<T>
    where T : struct, ILanes<T>
{
    private readonly PathKernel<T> path;
    private readonly CoreKernel<T> core;
    private readonly int[] pathParameters;
    private readonly int[] coreParameters;
    private readonly T[] forPath;
    private readonly T[] forCore;

    /// <summary>For one oscillator.</summary>
    /// <param name="path">Its pitch path.</param>
    /// <param name="law">Its core.</param>
    /// <param name="pathParameters">Where the path's parameters stand among the departures that are handed in.</param>
    /// <param name="coreParameters">Where the core's do.</param>
    public BuildReader(PathKernel<T> path, CoreLaw law, int[] pathParameters, int[] coreParameters)
    {
        (this.path, core, this.pathParameters, this.coreParameters) = (path, new(law), pathParameters, coreParameters);
        (forPath, forCore) = (new T[pathParameters.Length], new T[coreParameters.Length]);
    }

    /// <summary>Notes that can be read.</summary>
    public int Notes => path.Notes;

    /// <summary>Measures against another pitch from now on.</summary>
    /// <param name="asked">Its core's law, of the oscillator as it is asked now.</param>
    public void Ask(CoreLaw asked) => core.Ask(asked);

    /// <summary>Takes builds.</summary>
    public void Take(ReadOnlySpan<T> departures)
    {
        for (int p = 0; p < forPath.Length; p++)
            forPath[p] = departures[pathParameters[p]];
        for (int p = 0; p < forCore.Length; p++)
            forCore[p] = departures[coreParameters[p]];
        path.Take(forPath);
        core.Take(forCore);
    }

    /// <summary>Brings the builds to a temperature. Call <see cref="Turn"/> afterwards.</summary>
    public void SetTemperature(int k)
    {
        path.SetTemperature(k);
        core.SetTemperature(k);
        path.Forget();
    }

    /// <summary>Turns the trimmers: positions by trimmer of the voice.</summary>
    public void Turn(ReadOnlySpan<T> positions)
    {
        path.Turn(positions);
        core.Turn(positions);
    }

    /// <summary>Pitch error at a note, cents; no number where the build has no rest.</summary>
    public T Cents(int n) => core.Cents(n, path.Read(n));
}
