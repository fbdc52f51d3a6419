using Consort.Engine.Circuit.Motion;
using MathNet.Numerics.LinearAlgebra;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// An oscillator as its jacks, link and supply see it, whatever stands behind them: how its period answers to a voltage at each, and
/// which currents its motion draws there. How a period answers to currents hangs on the resistance that they meet, which grows along
/// a bus; this does not, so that one oscillator tells it for all of its <see cref="Kind"/>.
/// </summary>
/// <param name="Feels">By shared net and cell of a turn: the share by which the period grows for a volt there while the phase is in
/// the cell, 1/V.</param>
/// <param name="Sends">By shared net and cell: the current that the motion sends into it, beside what flows at the turn's start, A.</param>
internal sealed record PortSide(double[][] Feels, double[][] Sends)
{
    /// <summary>Of an oscillator whose response was read.</summary>
    /// <param name="response">How its period answers to currents.</param>
    /// <param name="impedance">What a current into one of its shared nets does to each of them at rest, itself included, ohm.</param>
    /// <param name="cells">Cells of a turn in the response.</param>
    /// <param name="fewer">So many of them are made one.</param>
    public static PortSide Of(PhaseResponse response, Matrix<double> impedance, int cells, int fewer)
    {
        int[] ports = [.. Enumerable.Range(0, impedance.RowCount)];
        Matrix<double> admittance = impedance.Inverse();
        double[][] answers = [.. ports.Select(port => PhaseGrid.Folded(response.ByRow(port), fewer))];
        double[][] waves = [.. ports.Select(port => response.Wave(port, cells / fewer))];
        // A current out of a net, which is what the answers are to, lowers it.
        return new([.. ports.Select(port => Columns.Sum(answers, t => -admittance[t, port]))], [.. ports.Select(port => Columns.Sum(waves, t => admittance[port, t]))]);
    }

    /// <summary>What it feels, for many pairs.</summary>
    public TurnWave[] FeltWaves { get; } = [.. Feels.Select(cells => new TurnWave(cells))];

    /// <summary>What oscillators have in common that are alike in this.</summary>
    /// <param name="core">What their cores have in common.</param>
    /// <param name="name">The oscillator's name.</param>
    /// <param name="shared">Its shared nets: of those of other members it is told apart only that they are another's.</param>
    public static string Kind(string core, string name, IEnumerable<string> shared)
    {
        return $"{core}: {string.Join(", ", shared.Select(net => Seen(net.Replace($" at {name}", "", StringComparison.Ordinal))))}";

        string Seen(string net) => net.StartsWith($"{name}/", StringComparison.Ordinal) ? net[name.Length..] : net[(net.IndexOf('/', StringComparison.Ordinal) + 1)..];
    }
}
