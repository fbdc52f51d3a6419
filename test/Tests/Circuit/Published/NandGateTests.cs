using System.Text;
using Consort.Engine.Circuit.Motion;
using Xunit;

namespace Consort.Tests.Circuit.Published;

/// <summary>
/// NAND gate of three MOS transistors: IVP Test Set, problem "nand" (M. Günther, P. Rentrop 1996; Mazzia, Magherini,
/// University of Bari, release 2.4), with Shichman and Hodges's transistors and junction capacitances that depend on the
/// voltage. Equations read in the public translation of the problem by Soetaert, Cash and Mazzia (R package deTestSet), end
/// values confirmed. As there, the thermal voltage is 25.85 V and the enhancement transistors' gain for reversed drain is a
/// tenth of that for forward.
/// </summary>
public sealed class NandGateTests
{
    private static readonly double[] Start =
    [
        5, 5, -2.5, -2.5, 5, 3.62385, 5, -2.5, -2.5, 3.62385, 0, 3.62385, -2.5, -2.5,
    ];

    private readonly StringBuilder text = new(
        """
        circuit:
          VDD: {voltage source: 5 V, plus: vdd, minus: 0 V}
          VBB: {voltage source: -2.5 V, plus: vbb, minus: 0 V}
          V1: {voltage source: 5 V, before: 0 V, starts: 5 s, rise: 5 s, lasts: 10 s, every: 20 s, plus: in 1, minus: 0 V}
          V2: {voltage source: 5 V, before: 0 V, starts: 15 s, rise: 5 s, lasts: 20 s, every: 40 s, plus: in 2, minus: 0 V}
          C9: {capacitor: 0.5e-4, from: y5, to: 0 V}
          C10: {capacitor: 0.5e-4, from: y10, to: 0 V}

        """
    );

    /// <summary>A transistor with inner source, drain and two bulk nodes between an outer source and drain.</summary>
    private void Add(int number, string gate, string outerSource, string outerDrain, Mos kind)
    {
        int first = 5 * (number - 1) + 1;
        string source = $"y{first}";
        string drain = $"y{first + 1}";
        string sourceBulk = number == 1 ? "y3" : number == 2 ? "y8" : "y13";
        string drainBulk = number == 1 ? "y4" : number == 2 ? "y9" : "y14";
        Line($"CGS{number}: {{capacitor: 0.6e-4, from: {source}, to: {gate}}}");
        Line($"CGD{number}: {{capacitor: 0.6e-4, from: {drain}, to: {gate}}}");
        Line($"RGS{number}: {{resistor: 4R, from: {source}, to: {outerSource}}}");
        Line($"RGD{number}: {{resistor: 4R, from: {drain}, to: {outerDrain}}}");
        Line($"M{number}: {{law: \"{Channel(kind, source, drain, gate, outerSource, outerDrain, sourceBulk, drainBulk)}\", from: {source}, to: {drain}}}");
        AddJunction($"BS{number}", sourceBulk, outerSource);
        AddJunction($"BD{number}", drainBulk, outerDrain);
    }

    private void AddJunction(string name, string bulk, string net)
    {
        string v = $"({Net(bulk)} - {Net(net)})";
        Line($"R{name}: {{resistor: 10R, from: {bulk}, to: vbb}}");
        Line($"I{name}: {{law: \"1e-14 * (exp(min({v}, 0) / 25.85) - 1)\", from: {bulk}, to: {net}}}");
        // The charge of 2.4e-5/√(1 − v/0.87) below zero and of its tangent above.
        Line($"Q{name}: {{charge law: \"2.4e-5 * (1.74 * (1 - sqrt(1 - min({v}, 0) / 0.87)) + max({v}, 0) + max({v}, 0)^2 / 3.48)\", from: {bulk}, to: {net}}}");
    }

    private sealed record Mos(double Threshold, double Body, double Potential, double Forward, double Backward);

    private static readonly Mos Depletion = new(-2.43, 0.2, 1.28, 5.35e-4, 5.35e-4);
    private static readonly Mos Enhancement = new(0.2, 0.035, 1.01, 1.748e-3, 1.748e-4);

    // −β·s·(2u − s)·(1 + δ·VDS) with s = max(0, min(u, VDS)), u = VGS − VTE; mirrored for VDS below zero.
    private static string Channel(Mos m, string source, string drain, string gate, string s, string d, string bs, string bd)
    {
        string vds = $"({Net(drain)} - {Net(source)})";
        string forward = Overdrive(m, $"({Net(gate)} - {Net(source)})", $"({Net(bs)} - {Net(s)})");
        string backward = Overdrive(m, $"({Net(gate)} - {Net(drain)})", $"({Net(bd)} - {Net(d)})");
        string sf = $"max(0, min({forward}, {vds}))";
        string sb = $"max(0, min({backward}, -{vds}))";
        return $"-{m.Forward:R} * {sf} * (2 * {forward} - {sf}) * (1 + 0.02 * {vds}) + {m.Backward:R} * {sb} * (2 * {backward} - {sb}) * (1 - 0.02 * {vds})";
    }

    private static string Overdrive(Mos m, string gate, string bulk) =>
        $"({gate} - ({m.Threshold:R}) - {m.Body:R} * (sqrt(max(0, {m.Potential:R} - {bulk})) - sqrt({m.Potential:R})))";

    private static string Net(string net) => net == "0 V" ? "0" : $"[{net}]";

    private void Line(string part) => text.Append("  ").Append(part).Append('\n');

    [Fact]
    public void The_nand_gate_reaches_its_published_end()
    {
        Add(1, "y5", "y5", "vdd", Depletion);
        Add(2, "in 1", "y10", "y5", Enhancement);
        Add(3, "in 2", "0 V", "y10", Enhancement);
        Bench bench = new(text.ToString());
        Dictionary<string, double> start = new() { ["vdd"] = 5, ["vbb"] = -2.5 };
        for (int i = 0; i < Start.Length; i++)
            start[$"y{i + 1}"] = Start[i];
        Transient run = bench.StartFrom(start, Accuracy.Strict(3e-10, 3e-10));
        Bench.Run(run, 80);
        double[] published = Reference.Column("ivp/nand.txt");
        for (int i = 0; i < published.Length; i++)
            Expect.Within(published[i], run.X[bench.Circuit.Net($"y{i + 1}")], 1e-8);
    }
}
