using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Tests.Circuit;
using Xunit;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Pitch.Builds.Draws;

public sealed class DrawPlanTests
{
    private const int Builds = 1 << 14;

    [Fact]
    public void Every_limit_of_every_kind_is_drawn()
    {
        string[] left = [.. PartKinds.All.SelectMany(kind => kind.Parameters).Where(spec => spec.IsLimit && !DrawPlanner.Draws(spec.Word)).Select(spec => spec.Word)];
        Assert.Empty(left);
    }

    [Fact]
    public void A_product_of_two_one_per_cent_parts_spreads_as_the_guide_to_uncertainty_says()
    {
        // JCGM 100:2008 4.3.7: uniform within ±t has t/√3; the product of two has √2 of it: 0.816496581 %, and its first
        // order stays within 1 % with a probability of 3/4 and within 2 % always.
        Table table = Draw("circuit:\n  R1: {resistor: 10k, tolerance: 1%, from: a, to: 0 V}\n  R2: {resistor: 10k, from: a, to: 0 V}\n  C1: {capacitor: 1n, tolerance: 1%, from: a, to: 0 V}\n");
        double[] r = table["R1", "value"];
        double[] c = table["C1", "value"];
        Moments one = Of(r);
        Moments both = Of([.. r.Zip(c, (x, y) => x + y)]);
        Expect.Relative(0.01 / Math.Sqrt(3), one.Deviation, 1e-4); // Sobol', 16384 points: far below 1/√(2N) = 0.6 %
        Expect.Relative(0.00816496581, both.Deviation, 1e-3);
        Expect.Within(0.75, r.Zip(c, (x, y) => x + y).Count(d => Math.Abs(d) <= 0.01) / (double)Builds, 1e-3);
        Assert.InRange(both.Most, 0.0195, 0.02);
    }

    [Fact]
    public void A_normal_spread_is_cut_at_its_limits_and_has_the_published_share_within_two_of_three_sigmas()
    {
        double[] d = Draw("circuit:\n  R1: {resistor: 10k, tolerance: 3%, spread: normal, sigmas: 3, from: a, to: 0 V}\n  R2: {resistor: 10k, from: a, to: 0 V}\n")["R1", "value"];
        // 0.954499736104 within 2σ, of the 0.997300203937 that are left of the whole.
        Expect.Within(0.954499736104 / 0.997300203937, d.Count(x => Math.Abs(x) <= 0.02) / (double)Builds, 2e-4);
        Assert.True(d.Max(Math.Abs) <= 0.03);
        Expect.Relative(0.03 * Math.Sqrt(new SpreadShape.Normal(3).Variance), Of(d).Deviation, 1e-3);
    }

    [Fact]
    public void Two_of_an_array_have_the_correlation_that_their_match_leaves()
    {
        // Common half-width 0.95 %, own 0.05 % each: Var(difference) = 2·(0.05 %)²/3, Cov = (0.95 %)²/3.
        Table table = Draw("""
            circuit:
              R1: {resistor: 10k, tolerance: 1%, array: RN1, array match: 0.1%, from: a, to: 0 V}
              R2: {resistor: 10k, tolerance: 1%, array: RN1, array match: 0.1%, from: a, to: 0 V}
            """);
        double[] one = table["R1", "value"];
        double[] other = table["R2", "value"];
        double[] difference = [.. one.Zip(other, (x, y) => x - y)];
        Expect.Relative(2 * 0.0005 * 0.0005 / 3, Of(difference).Variance, 2e-3);
        Expect.Relative(0.0095 * 0.0095 / 3, one.Zip(other, (x, y) => x * y).Average(), 2e-3);
        Assert.True(difference.Max(Math.Abs) <= 0.001);
        Assert.True(one.Max(Math.Abs) is > 0.0099 and <= 0.01);
    }

    [Fact]
    public void Pieces_off_one_reel_are_correlated_as_the_shelf_says_and_keep_their_own_spread()
    {
        // Normal scores with correlation ρ give uniform values with correlation (6/π)·asin(ρ/2) (Pearson 1907).
        Stock stock = new([Item("resistor", 10e3, 0.01) with { Reel = 0.6 }]);
        Table table = Draw("circuit:\n  R1: {resistor: 10k, tolerance: 1%, from: a, to: 0 V}\n  R2: {resistor: 10k, tolerance: 1%, from: a, to: 0 V}\n  R3: {resistor: 22k, tolerance: 1%, from: a, to: 0 V}\n", stock);
        double[] one = table["R1", "value"];
        double[] other = table["R2", "value"];
        double variance = 1e-4 / 3;
        Expect.Relative(variance, Of(one).Variance, 5e-3);
        Expect.Within(6 / Math.PI * Math.Asin(0.3), one.Zip(other, (x, y) => x * y).Average() / variance, 0.005);
        Expect.Within(0, one.Zip(table["R3", "value"], (x, y) => x * y).Average() / variance, 0.01);
    }

    [Fact]
    public void Measured_departures_come_out_as_they_were_measured()
    {
        Stock stock = new([Item("resistor", 10e3, 0.01) with { Measured = [0.001, -0.002, 0.004, 0.003] }]);
        double[] d = Draw("circuit:\n  R1: {resistor: 10k, tolerance: 1%, from: a, to: 0 V}\n  R2: {resistor: 10k, from: a, to: 0 V}\n", stock)["R1", "value"];
        Assert.Equal([-0.002, 0.001, 0.003, 0.004], d.Distinct().Order());
        Assert.All(d.GroupBy(x => x), group => Assert.Equal(Builds / 4, group.Count()));
    }

    [Fact]
    public void A_pair_shares_its_gain_and_its_second_half_has_offset_and_match()
    {
        Table table = Draw("""
            circuit:
              V1: {voltage source: 5 V, plus: v, minus: 0 V}
              R1: {resistor: 10k, from: v, to: a}
              R2: {resistor: 10k, from: v, to: b}
              R3: {resistor: 10k, from: e, to: 0 V}
              P: {matched pair: matched NPN dual}
              Q1: {npn: P, collector: a, base: v, emitter: e}
              Q2: {npn: P, collector: b, base: v, emitter: e}
            """);
        Assert.False(table.Has("Q1", "offset"));
        Assert.True(table["Q2", "offset"].Max(Math.Abs) is > 40e-6 and <= 50e-6);
        double[] match = [.. table["Q2", "forward gain"].Zip(table["Q1", "forward gain"], (x, y) => x - y)];
        Assert.True(match.Max(Math.Abs) is > 0.018 and <= 0.02);
        Assert.True(table["Q1", "forward gain"].Max() > 0.18);
    }

    [Fact]
    public void A_base_voltage_that_is_18_millivolts_off_halves_the_saturation_current()
    {
        // VT·ln 2 at 25 °C is 17.8087387791 mV (Gray, Hurst, Lewis, Meyer, ch. 1).
        Part part = Compile("circuit:\n  V1: {voltage source: 5 V, plus: a, minus: 0 V}\n  Q1: {npn: 2N3904, base voltage within: 20 mV, collector: a, base: a, emitter: 0 V}\n").Design.Parts[1];
        DrawnParameter drawn = new(part, default, "saturation current", 1e-14, MoveKind.BaseVoltage, []);
        Expect.Relative(0.5e-14, drawn.Value(17.8087387791e-3), 1e-9);
    }

    [Fact]
    public void The_heaviest_variates_get_the_first_dimensions()
    {
        Compiled circuit = Compile("circuit:\n  R1: {resistor: 10k, tolerance: 1%, from: a, to: 0 V}\n  R2: {resistor: 10k, tolerance: 1%, from: a, to: 0 V}\n");
        DrawPlan plan = DrawPlanner.Plan(circuit, Stock.Empty).Ranked([0.1, 5]);
        double[] cube = [0.75, 0.25]; // the third point
        double[] departures = new double[2];
        plan.Departures(SobolPoints.Bare(2), 2, 1, departures);
        Assert.Equal((0.01 * (2 * cube[1] - 1), 0.01 * (2 * cube[0] - 1)), (departures[0], departures[1]));
    }

    private static StockItem Item(string kind, double value, double tolerance) =>
        new(PartKinds.Find(kind)!, null, value, null, tolerance, null, null, null, null, "", SourceSpan.None);

    private static Compiled Compile(string text) => new Bench(text).Circuit;

    private static Table Draw(string text, Stock? stock = null)
    {
        DrawPlan plan = DrawPlanner.Plan(Compile(text), stock ?? Stock.Empty);
        double[] departures = new double[plan.Parameters.Length * Builds];
        plan.Departures(SobolPoints.Scrambled(plan.Variates.Length, 12345), 0, Builds, departures);
        return new(plan, departures);
    }

    private static Moments Of(double[] values)
    {
        Moments moments = new();
        foreach (double value in values)
            moments.Add(value);
        return moments;
    }

    private sealed class Table(DrawPlan plan, double[] departures)
    {
        public double[] this[string part, string word] => departures.AsSpan(IndexOf(part, word) * Builds, Builds).ToArray();

        public bool Has(string part, string word) => plan.Parameters.Any(p => p.Part.Name == part && p.Word == word);

        private int IndexOf(string part, string word)
        {
            for (int p = 0; p < plan.Parameters.Length; p++)
                if (plan.Parameters[p].Part.Name == part && plan.Parameters[p].Word == word)
                    return p;
            throw new KeyNotFoundException($"{part} {word}");
        }
    }
}
