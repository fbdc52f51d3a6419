using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>Circuits among the IVP Test Set's problems (Mazzia, Magherini, University of Bari, release 2.4). Confirmed.</summary>
public sealed class CircuitBenchmarkTests
{
    private const string AmplifierEquations = """
        circuit:
          G1: {law: "([y1] - 0.1 * sin(200 * pi * t)) / 1000", from: y1, to: 0 V}
          C1: {capacitor: 1u, starts at: -3 V, from: y1, to: y2}
          G2: {law: "[y2] / 9000 + ([y2] - 6) / 9000 + 0.01 * 1e-6 * (exp(([y2] - [y3]) / 0.026) - 1)", from: y2, to: 0 V}
          G3: {law: "[y3] / 9000 - 1e-6 * (exp(([y2] - [y3]) / 0.026) - 1)", from: y3, to: 0 V}
          C2: {capacitor: 2u, starts at: 3 V, from: y3, to: 0 V}
          G4: {law: "([y4] - 6) / 9000 + 0.99 * 1e-6 * (exp(([y2] - [y3]) / 0.026) - 1)", from: y4, to: 0 V}
          C3: {capacitor: 3u, starts at: 3 V, from: y4, to: y5}
          G5: {law: "[y5] / 9000 + ([y5] - 6) / 9000 + 0.01 * 1e-6 * (exp(([y5] - [y6]) / 0.026) - 1)", from: y5, to: 0 V}
          G6: {law: "[y6] / 9000 - 1e-6 * (exp(([y5] - [y6]) / 0.026) - 1)", from: y6, to: 0 V}
          C4: {capacitor: 4u, starts at: 3 V, from: y6, to: 0 V}
          G7: {law: "([y7] - 6) / 9000 + 0.99 * 1e-6 * (exp(([y5] - [y6]) / 0.026) - 1)", from: y7, to: 0 V}
          C5: {capacitor: 5u, starts at: 6 V, from: y7, to: y8}
          G8: {law: "[y8] / 9000", from: y8, to: 0 V}
        """;

    [Fact]
    public void The_transistor_amplifier_as_equations_reaches_its_published_end()
    {
        // "transamp" (Rentrop; one transistor in Hairer and Wanner, Solving ODEs II, p. 376): an index-1 system whose mass
        // matrix is five capacitors. rel 1e-7.
        Bench bench = new(AmplifierEquations);
        double[] end = bench.After(0.2, Accuracy.Strict(1e-10, 1e-11));
        double[] published = Reference.Column("ivp/transamp.txt");
        for (int i = 0; i < 8; i++)
            Expect.Relative(published[i], end[bench.Circuit.Net($"y{i + 1}")], 1e-7);
    }

    [Fact]
    public void The_transistor_amplifier_as_a_circuit_reaches_the_same_end()
    {
        Bench bench = new(File.ReadAllText(Path.Combine(Reference.Root, "examples", "circuits", "amplifier.yaml")));
        double[] end = bench.After(0.2, Accuracy.Strict(1e-10, 1e-11));
        double[] published = Reference.Column("ivp/transamp.txt");
        for (int i = 0; i < 8; i++)
            Expect.Relative(published[i], end[bench.Circuit.Net($"n{i + 1}")], 1e-7);
    }

    /// <summary>Coils are nets whose voltage is the current, their inductance the capacitor.</summary>
    private static double[] RingModulator(Accuracy accuracy)
    {
        const string Diode = "40.67286402e-9 * (exp(17.7493332 * ({0})) - 1)";
        string q1 = string.Format(Diode, "[y3] - [y5] - [y7] - 2 * sin(2e4 * pi * t)");
        string q2 = string.Format(Diode, "-[y4] + [y6] - [y7] - 2 * sin(2e4 * pi * t)");
        string q3 = string.Format(Diode, "[y4] + [y5] + [y7] + 2 * sin(2e4 * pi * t)");
        string q4 = string.Format(Diode, "-[y3] - [y6] + [y7] + 2 * sin(2e4 * pi * t)");
        return new Equations()
            .Add("y1", 0, "[y8] - 0.5 * [y10] + 0.5 * [y11] + [y14] - [y1] / 25e3", 1.6e-8)
            .Add("y2", 0, "[y9] - 0.5 * [y12] + 0.5 * [y13] + [y15] - [y2] / 25e3", 1.6e-8)
            .Add("y3", 0, $"[y10] - {q1} + {q4}", 2e-12)
            .Add("y4", 0, $"-[y11] + {q2} - {q3}", 2e-12)
            .Add("y5", 0, $"[y12] + {q1} - {q3}", 2e-12)
            .Add("y6", 0, $"-[y13] - {q2} + {q4}", 2e-12)
            .Add("y7", 0, $"-[y7] / 50 + {q1} + {q2} - {q3} - {q4}", 1e-8)
            .Add("y8", 0, "-[y1]", 4.45)
            .Add("y9", 0, "-[y2]", 4.45)
            .Add("y10", 0, "0.5 * [y1] - [y3] - 17.3 * [y10]", 5e-4)
            .Add("y11", 0, "-0.5 * [y1] + [y4] - 17.3 * [y11]", 5e-4)
            .Add("y12", 0, "0.5 * [y2] - [y5] - 17.3 * [y12]", 5e-4)
            .Add("y13", 0, "-0.5 * [y2] + [y6] - 17.3 * [y13]", 5e-4)
            .Add("y14", 0, "-[y1] + 0.5 * sin(2e3 * pi * t) - (50 + 36.3) * [y14]", 2e-3)
            .Add("y15", 0, "-[y2] - (600 + 36.3) * [y15]", 2e-3)
            .After(1e-3, accuracy);
    }

    [Fact]
    public void The_ring_modulator_reaches_its_published_end()
    {
        // "ringmod" (Horneber 1976; Kampowsky, Rentrop, Schmidt 1992): four diodes, 2 pF against 0.5 mH ring at 5 MHz.
        RingModulatorMustAgree(Accuracy.Strict(3e-7, 3e-10), 1e-4);
    }

    [Fact]
    [Trait("Runs", "Long")]
    public void The_ring_modulator_reaches_its_published_end_to_a_part_in_1e7() =>
        RingModulatorMustAgree(Accuracy.Strict(1e-10, 1e-13), 1e-7);

    private static void RingModulatorMustAgree(Accuracy accuracy, double share)
    {
        double[] end = RingModulator(accuracy);
        double[] published = Reference.Column("ivp/ringmod.txt");
        for (int i = 0; i < published.Length; i++)
            Expect.Relative(published[i], end[i], share);
    }
}
