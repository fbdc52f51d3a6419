using System.Collections.Immutable;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit;

/// <summary>One circuit solved by itself: every net's voltage and every part's currents, at rest or at the end of a run
/// in time, and the nets at even moments on the way.</summary>
/// <param name="Kelvin">Temperature, K.</param>
/// <param name="Method">How the operating point was found.</param>
/// <param name="Passes">Newton passes that it took.</param>
/// <param name="Steps">Accepted steps of the run; 0 at rest.</param>
/// <param name="Time">Time of the nets and parts below, s; 0 at rest.</param>
/// <param name="Nets">Voltages, V, ground first, then as the circuit's parts name them.</param>
/// <param name="Parts">Current into each terminal, A. Terminals that share a net are given together.</param>
/// <param name="Moments">The nets' voltages on the way, in the order of <paramref name="Nets"/>; empty at rest.</param>
public sealed record CircuitSolution(
    double Kelvin,
    string Method,
    long Passes,
    long Steps,
    double Time,
    ImmutableArray<NetVoltage> Nets,
    ImmutableArray<PartCurrents> Parts,
    ImmutableArray<Moment> Moments
)
{
    /// <summary>The operating point, or why there is none.</summary>
    public static (CircuitSolution? Solution, SolveFailure? Failure) AtRest(CircuitDesign design, double kelvin)
    {
        Circuit circuit = Circuit.Compile(design);
        circuit.SetTemperature(kelvin);
        (RestState? rest, SolveFailure? failure) = new OperatingPoint(circuit).Find();
        if (rest is null)
            return (null, failure);
        return (Of(circuit, rest, 0, 0, rest.X, Regime.Rest, null, []), null);
    }

    /// <summary>A run from the operating point, read at even moments.</summary>
    /// <param name="until">Where it ends, s.</param>
    /// <param name="moments">How many moments, the first at 0 and the last at the end; 2 or more.</param>
    public static (CircuitSolution? Solution, SolveFailure? Failure) InTime(
        CircuitDesign design,
        double kelvin,
        Accuracy accuracy,
        double until,
        int moments,
        CancellationToken cancel
    )
    {
        Circuit circuit = Circuit.Compile(design);
        circuit.SetTemperature(kelvin);
        (RestState? rest, SolveFailure? failure) = new OperatingPoint(circuit).Find();
        if (rest is null)
            return (null, failure);
        int[] nets = [.. Names(circuit).Select(circuit.Net)];
        Transient run = new(circuit, accuracy);
        run.Start(rest.X);
        ImmutableArray<Moment>.Builder read = ImmutableArray.CreateBuilder<Moment>(moments);
        double lastStep = 0;
        for (int i = 0; i < moments; i++)
        {
            double time = until * i / (moments - 1);
            while (run.Time < time)
            {
                cancel.ThrowIfCancellationRequested();
                double before = run.Time;
                if (run.Step(time) is { } fault)
                    return (null, fault);
                lastStep = run.Time - before;
            }
            read.Add(new(time, [.. nets.Select(net => run.X[net])]));
        }
        long steps = run.Steps;
        double[] end = (double[])run.X.Clone();
        double[]? slope = Slope(run, end, lastStep / 16);
        return (Of(circuit, rest, steps, until, end, Regime.Motion, slope, read.ToImmutable()), null);
    }

    /// <summary>dx/dt from three short steps past the end: derivative of the cubic through four states.</summary>
    private static double[]? Slope(Transient run, double[] end, double h)
    {
        double[] weights = [-11.0 / 6, 3, -1.5, 1.0 / 3];
        double[] slope = [.. end.Select(x => weights[0] * x / h)];
        double start = run.Time;
        for (int step = 1; step < weights.Length; step++)
        {
            if (run.RunTo(start + step * h) is not null)
                return null;
            for (int i = 1; i < slope.Length; i++)
                slope[i] += weights[step] * run.X[i] / h;
        }
        return slope;
    }

    private static CircuitSolution Of(
        Circuit circuit,
        RestState rest,
        long steps,
        double time,
        double[] x,
        Regime regime,
        double[]? slope,
        ImmutableArray<Moment> moments
    ) =>
        new(
            circuit.Temperature,
            rest.Method,
            rest.Passes,
            steps,
            time,
            [.. Names(circuit).Select(net => new NetVoltage(net, x[circuit.Net(net)]))],
            [.. circuit.Design.Parts.Where(part => circuit.Has(part.Name)).Select(part => Currents(circuit, part.Name, x, time, regime, slope))],
            moments
        );

    private static PartCurrents Currents(Circuit circuit, string part, double[] x, double time, Regime regime, double[]? slope) =>
        new(part, [.. circuit.Currents(part, x, time, regime, slope).Select(current => new TerminalCurrent(current.Terminal, current.Amperes))]);

    private static IEnumerable<string> Names(Circuit circuit) =>
        circuit
            .Design.Parts.SelectMany(part => part.Terminals)
            .Select(joint => joint.Net)
            .Where(circuit.Nets.ContainsKey)
            .Prepend(CircuitDesign.Ground)
            .Distinct();
}

/// <summary>A net's voltage against 0 V.</summary>
public readonly record struct NetVoltage(string Net, double Volts);

/// <summary>A part's currents.</summary>
public sealed record PartCurrents(string Part, ImmutableArray<TerminalCurrent> Currents);

/// <summary>The current into a terminal, A.</summary>
public readonly record struct TerminalCurrent(string Terminal, double Amperes);

/// <summary>All nets at one time, s and V.</summary>
public sealed record Moment(double Time, ImmutableArray<double> Volts);
