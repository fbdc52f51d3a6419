using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// A first look at what oscillators bring to each other: as if all that lies between them answered at once, and as it does at
/// rest. What one's nets do while it runs by itself is put upon the whole voice's slopes; where it goes from there, and which
/// currents would have done the same to another by itself, are two solves. Op amps count as stiff as they are at rest, and what
/// stands on shared wires as if it had no capacitance: good enough to tell which pair couples most.
/// </summary>
internal sealed class RestCoupling
{
    private readonly Matrix<double>[][] transfer;

    private RestCoupling(Matrix<double>[][] transfer) => this.transfer = transfer;

    /// <summary>Of a voice at rest; null when its matrix is singular there.</summary>
    /// <param name="shared">By oscillator: the nets that it shares with the voice.</param>
    public static RestCoupling? At(PlayedVoice voice, RestState state, IReadOnlyList<IReadOnlyList<string>> shared)
    {
        if (RestSensitivity.At(voice.Circuit, state) is not { } rest)
            return null;
        int[][] ports = [.. shared.Select(nets => nets.Select(voice.Circuit.Net).ToArray())];
        double[][][] rows = [.. ports.Select(own => own.Select(port => rest.Adjoint((port, 1))).ToArray())]; // of the inverse
        Matrix<double>[] own = [.. ports.Select((_, k) => Between(k, k).Inverse())];
        return new([.. ports.Select((_, to) => ports.Select((_, from) => to == from ? own[to] : -own[to] * Between(to, from) * own[from]).ToArray())]);

        Matrix<double> Between(int to, int from) => Matrix<double>.Build.Dense(ports[to].Length, ports[from].Length, (s, t) => rows[to][s][ports[from][t]]);
    }

    /// <summary>What one oscillator brings to a net that another shares, A by cell of its turn.</summary>
    /// <param name="to">Who feels it.</param>
    /// <param name="port">Place of the net among those that it shares.</param>
    /// <param name="from">Who brings it.</param>
    /// <param name="waves">What the nets do that this one shares, V by cell.</param>
    public double[] Brought(int to, int port, int from, double[][] waves)
    {
        double[] brought = new double[waves[0].Length];
        for (int t = 0; t < waves.Length; t++)
            for (int i = 0; i < brought.Length; i++)
                brought[i] += transfer[to][from][port, t] * waves[t][i];
        return brought;
    }
}
