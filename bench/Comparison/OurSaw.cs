using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;

namespace Consort.Bench.Comparison;

/// <summary>saw.yaml by our own engine, read, compiled and followed like any circuit file. What decides a moment is held
/// tighter than the rest by a factor, as in every reading of a pitch, where it is a hundredth.</summary>
internal sealed class OurSaw : ISawSolver
{
    private const double Longest = 1; // s of the circuit's time
    private readonly Circuit circuit;
    private readonly Probe probe;
    private readonly double held;

    /// <summary>Reads the circuit.</summary>
    /// <param name="held">How much tighter what decides a moment is held.</param>
    public OurSaw(string file, double held)
    {
        this.held = held;
        (CircuitDesign? design, ImmutableArray<InputError> errors) = CircuitFile.Read(file);
        circuit = Circuit.Compile(design ?? throw new InvalidDataException(string.Join('\n', errors.Select(e => e.Render()))));
        probe = new(circuit.Net("sense"), 2.5, Rising: true); // where the decision falls
    }

    public string Name => "Consort" + (held < Accuracy.Pitch.Timing ? ", timing held tighter" : "");

    public IReadOnlyList<double> Tolerances { get; } = Ladder.Between(10, 1e-4);

    public SawRun? Run(SawRequest request)
    {
        circuit["keyboard", "value"] = 1e-3 * request.Volts; // into 1k
        SawRun? best = null;
        for (int repeat = 0; repeat < request.Repeats; repeat++)
        {
            if (Once(request) is not { } run)
                return null;
            if (best is null || run.Seconds < best.Seconds)
                best = run;
        }
        return best;
    }

    private SawRun? Once(SawRequest request)
    {
        if (new OperatingPoint(circuit).Find().State is not { } rest)
            return null;
        Transient run = new(circuit, Accuracy.Pitch with { Relative = request.Tolerance, Timing = held }, [probe]);
        run.Start(rest.X);
        if (!RunTo(run, request.Warm + 1))
            return null;
        long passes = run.Passes;
        Work work = Work.Begin();
        if (!RunTo(run, request.Warm + 1 + request.Cycles))
            return null;
        double taken = work.Seconds;
        return new(
            run.Crossings[^1].Time - run.Crossings[^2].Time,
            taken / request.Cycles,
            (run.Passes - passes) / (double)request.Cycles
        );
    }

    private static bool RunTo(Transient run, int crossings)
    {
        while (run.Crossings.Count < crossings)
            if (run.Step(Longest) is not null || run.Time >= Longest)
                return false;
        return true;
    }
}
