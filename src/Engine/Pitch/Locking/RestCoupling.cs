using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// A first look at what lies between oscillators: as if all of it answered at once, and as it does at rest. Op amps count as stiff as
/// they are at rest, and what stands on shared wires as if it had no capacitance: good enough to tell which pair couples most.
/// </summary>
internal sealed class RestCoupling
{
    private readonly Matrix<double>[][] impedance;

    private RestCoupling(Matrix<double>[][] impedance) => this.impedance = impedance;

    /// <summary>Of a voice at rest; null when its matrix is singular there.</summary>
    /// <param name="shared">By oscillator: the nets that it shares with the voice.</param>
    public static RestCoupling? At(PlayedVoice voice, RestState state, IReadOnlyList<IReadOnlyList<string>> shared)
    {
        if (RestSensitivity.At(voice.Circuit, state) is not { } rest)
            return null;
        int[][] ports = [.. shared.Select(nets => nets.Select(voice.Circuit.Net).ToArray())];
        double[][][] rows = [.. ports.Select(own => own.Select(port => rest.Adjoint((port, 1))).ToArray())]; // of the inverse
        return new([.. ports.Select((_, to) => ports.Select((_, from) => Between(to, from)).ToArray())]);

        Matrix<double> Between(int to, int from) => Matrix<double>.Build.Dense(ports[to].Length, ports[from].Length, (s, t) => rows[to][s][ports[from][t]]);
    }

    /// <summary>What a current into each net that one oscillator shares does to each of them, ohm.</summary>
    public Matrix<double> At(int oscillator) => impedance[oscillator][oscillator];

    /// <summary>What one oscillator brings to a net that another shares, V by cell of its turn.</summary>
    /// <param name="to">Who feels it.</param>
    /// <param name="port">Place of the net among those that it shares.</param>
    /// <param name="from">Who brings it.</param>
    /// <param name="sends">What it sends into its own, A by cell.</param>
    public double[] Brought(int to, int port, int from, double[][] sends) => Columns.Sum(sends, t => impedance[to][from][port, t]);
}
