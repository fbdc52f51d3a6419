using System.Numerics;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Rest;

namespace Consort.Engine.Circuit.Signal;

/// <summary>
/// Small signals about an operating point: (G + jωC)·x = b. Capacitors that state 'starts at' are free to move here.
/// </summary>
public sealed class SmallSignal
{
    private readonly Circuit circuit;
    private readonly double[] g;
    private readonly double[] c;
    private readonly Complex[] matrix;
    private readonly Complex[] right;
    private readonly double[] state;
    private LuFactors<Complex>? factors;

    private readonly double time;

    /// <summary>Linearises a circuit at a state.</summary>
    /// <param name="time">When it was in that state, s: sources and ramps stand as they did then.</param>
    public SmallSignal(Circuit circuit, RestState at, double time = 0)
    {
        (this.circuit, this.time) = (circuit, time);
        state = at.X;
        state.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(time, Regime.Motion);
        g = (double[])circuit.Pass.G.Clone();
        c = (double[])circuit.Pass.C.Clone();
        matrix = new Complex[g.Length];
        right = new Complex[circuit.Length];
    }

    /// <summary>The response of all unknowns to the sources' 'small signal' amplitudes; null when singular.</summary>
    public Complex[]? Response(double hertz)
    {
        Array.Clear(right);
        double[] real = new double[right.Length];
        foreach (PartBank bank in circuit.Banks)
            if (bank is IExciting sources)
                sources.Excite(real);
        for (int row = 1; row < right.Length; row++)
            right[row] = real[row];
        return Factor(hertz) ? Solve() : null;
    }

    /// <summary>The response to a unit current pushed into one net (A), so a transfer resistance; null when singular.</summary>
    public Complex[]? ResponseToCurrent(double hertz, int net)
    {
        Array.Clear(right);
        right[net] = 1;
        return Factor(hertz) ? Solve() : null;
    }

    /// <summary>Noise at an output and what each source brings.</summary>
    /// <param name="hertz">Frequency.</param>
    /// <param name="plus">Unknown of the output.</param>
    /// <param name="minus">Its reference; 0 for ground.</param>
    public NoiseReading? Noise(double hertz, int plus, int minus = 0)
    {
        if (!Factor(hertz))
            return null;
        Array.Clear(right);
        right[plus] += 1;
        right[minus] -= 1;
        right[0] = 0;
        Complex[] adjoint = new Complex[circuit.Length];
        factors!.SolveTransposed(right, adjoint);
        NoiseList sources = new();
        state.CopyTo(circuit.Pass.X, 0);
        circuit.Evaluate(time, Regime.Motion);
        foreach (PartBank bank in circuit.Banks)
            for (int i = 0; i < bank.Count; i++)
                bank.Noise(circuit.Pass, i, sources);
        List<NoiseShare> shares = [];
        double total = 0;
        foreach (NoiseSource source in sources.Sources)
        {
            double gain = Complex.Abs(adjoint[source.To] - adjoint[source.From]);
            double density = source.White * (1 + (source.Corner > 0 ? source.Corner / hertz : 0)) * gain * gain;
            shares.Add(new(source.Name, density));
            total += density;
        }
        return new(hertz, Math.Sqrt(total), [.. shares.OrderByDescending(share => share.Density)]);
    }

    private bool Factor(double hertz)
    {
        double omega = 2 * Math.PI * hertz;
        for (int i = 1; i < matrix.Length; i++)
            matrix[i] = new(g[i], omega * c[i]);
        if (factors is not null && factors.Factor(matrix))
            return true;
        double[] sizes = new double[matrix.Length];
        for (int i = 1; i < sizes.Length; i++)
            sizes[i] = Complex.Abs(matrix[i]);
        LuProgram? program = LuOrder.Find(circuit.Pattern, sizes);
        if (program is null)
            return false;
        factors = new(program);
        return factors.Factor(matrix);
    }

    private Complex[] Solve()
    {
        Complex[] x = new Complex[circuit.Length];
        factors!.Solve(right, x);
        return x;
    }
}

/// <summary>Noise density at an output.</summary>
/// <param name="Hertz">Frequency.</param>
/// <param name="Density">V/√Hz in all.</param>
/// <param name="Shares">By source, V²/Hz, largest first.</param>
public sealed record NoiseReading(double Hertz, double Density, IReadOnlyList<NoiseShare> Shares);

/// <summary>What one source brings to an output, V²/Hz.</summary>
public readonly record struct NoiseShare(string Source, double Density);
