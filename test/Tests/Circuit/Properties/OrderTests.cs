using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Properties;

/// <summary>The integrator's order, measured by halving fixed steps (Hairer, Nørsett, Wanner, Solving ODEs I, II.3: the
/// error of order p falls by 2^p).</summary>
public sealed class OrderTests
{
    private static readonly Accuracy Newton = Accuracy.Strict(1e-13, 1e-14); // fixed steps: only Newton's tolerance

    public static TheoryData<string> Methods => ["TR-BDF2", "ESDIRK3(2)4", "ESDIRK4(3)6", "RODAS4(3)6"];

    private static StepMethod Named(string name) =>
        new StepMethod[] { Tableau.TrBdf2, Tableau.Third, Tableau.Fourth, Rosenbrock.Rodas }.Single(method => method.Name == name);

    // An equation with a known end: y' = -y²·cos t, y = 1/(1 + sin t).
    private const string Riccati = """
        circuit:
          C1: {capacitor: 1 F, starts at: 1 V, from: y, to: 0 V}
          G1: {law: "[y]^2 * cos(t)", from: y, to: 0 V}
        """;

    // A charge that hangs on time: q = y·(2 + cos t), q' = −y, so q = 3·exp(−(2/√3)·atan(tan(t/2)/√3)).
    private const string Swaying = """
        circuit:
          Q1: {charge law: "[y] * (2 + cos(t))", from: y, to: 0 V}
          G1: {law: "[y]", from: y, to: 0 V}
        """;

    // A rectifier: a capacitor, a junction's own charge, nets without charge, and a source that moves.
    private const string Rectifier = """
        circuit:
          V1: {voltage source: 0 V, amplitude: 3 V, frequency: 1 kHz, phase: 0.1, plus: source, minus: 0 V}
          R1: {resistor: 470R, from: source, to: in}
          R2: {resistor: 10k, from: in, to: 0 V}
          D1: {diode: ideal, anode: in, cathode: out, saturation current: 1e-9 A, emission coefficient: 1.8, junction capacitance: 100 nF}
          C1: {capacitor: 470n, starts at: 1 V, from: out, to: 0 V}
          R3: {resistor: 2k2, from: out, to: 0 V}
        """;

    [Theory]
    [MemberData(nameof(Methods))]
    public void Halving_the_step_of_an_equation_shows_the_methods_order(string name)
    {
        double exact = 1 / (1 + Math.Sin(2));
        MustFallByOrder(Named(name), step => Math.Abs(End(Riccati, "y", 2, step, Named(name)) - exact), 0.1);
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Halving_the_step_where_a_charge_hangs_on_time_shows_the_methods_order(string name)
    {
        double exact = 3 / (2 + Math.Cos(2)) * Math.Exp(-2 / Math.Sqrt(3) * Math.Atan(Math.Tan(1) / Math.Sqrt(3)));
        MustFallByOrder(Named(name), step => Math.Abs(End(Swaying, "y", 2, step, Named(name), 1) - exact), 0.3);
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Halving_the_step_of_a_circuit_with_a_junction_shows_the_methods_order(string name)
    {
        const double Until = 0.4e-3; // up to where the diode carries its most: no switching on or off on the way
        Bench bench = new(Rectifier);
        double exact = bench.After(Until, Accuracy.Strict(1e-12, 1e-13))[bench.Circuit.Net("out")];
        MustFallByOrder(Named(name), step => Math.Abs(End(Rectifier, "out", Until, step * 2e-4, Named(name)) - exact), 0.3);
    }

    private static void MustFallByOrder(StepMethod method, Func<double, double> error, double tolerance)
    {
        double[] errors = [.. Enumerable.Range(0, 4).Select(i => error(0.1 / (1 << i)))];
        double measured = Math.Log2(errors[2] / errors[3]);
        Assert.True(
            measured > method.Order - tolerance && measured < method.Order + 1,
            $"{method.Name}: order {measured:F2}, errors {string.Join(", ", errors.Select(e => e.ToString("E2")))}"
        );
    }

    private static double End(string text, string net, double until, double step, StepMethod method, double? start = null)
    {
        Bench bench = new(text);
        Transient run = start is { } volts ? bench.StartFrom(new Dictionary<string, double> { [net] = volts }, Newton, method) : bench.Start(Newton, method);
        run.FixedStep = step;
        Bench.Run(run, until);
        Assert.Equal((long)Math.Round(until / step), run.Steps);
        return run.X[bench.Circuit.Net(net)];
    }
}
