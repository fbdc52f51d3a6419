using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>No outside source is needed: a derivative is what differences of the function say it is. Every state is
/// random from a printed seed; voltages go through all regions of every part.</summary>
public sealed class DerivativeTests
{
    private const int States = 400;

    public static TheoryData<string> Samples => [.. SampleParts.All.Keys];

    [Theory]
    [MemberData(nameof(Samples))]
    public void Stamped_derivatives_are_those_of_the_stamped_currents_and_charges(string sample)
    {
        EquationBench bench = new(SampleParts.All[sample]);
        Random random = new(20_260);
        foreach (Regime regime in (ReadOnlySpan<Regime>)[Regime.Rest, Regime.Motion])
        foreach (double kelvin in (ReadOnlySpan<double>)[263.15, 298.15, 333.15])
        {
            bench.Pass.Regime = regime;
            bench.Pass.Gmin = random.NextDouble() < 0.5 ? 0 : 1e-6;
            bench.SetTemperature(kelvin);
            SendOutputsOnTheirWay(bench, random.NextDouble() * 1e-7);
            for (int i = 0; i < States; i++)
                bench.DerivativesMustAgree(State(random, bench));
        }
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void Every_equation_is_finite_at_wild_guesses(string sample)
    {
        EquationBench bench = new(SampleParts.All[sample]);
        Random random = new(20_261);
        for (int i = 0; i < States; i++)
        {
            double[] x = new double[bench.Length];
            for (int k = 1; k < x.Length; k++)
                x[k] = (random.NextDouble() * 2 - 1) * Math.Pow(10, random.NextDouble() * 30);
            bench.Pass.Regime = i % 2 == 0 ? Regime.Rest : Regime.Motion;
            bench.Evaluate(x);
            foreach (double[] values in (double[][])[bench.Pass.F, bench.Pass.Q, bench.Pass.G, bench.Pass.C])
                Assert.All(values, value => Assert.True(double.IsFinite(value), $"seed 20261, state {i}"));
        }
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void What_enters_a_part_leaves_it_again(string sample)
    {
        Part[] parts = SampleParts.All[sample];
        // Kirchhoff's current law over the nets and inner nodes; ground takes what is missing, so no sample joins it.
        if (parts.Any(part => part.Terminals.Any(joint => joint.Net == CircuitDesign.Ground)))
            return;
        EquationBench bench = new(parts);
        Random random = new(20_262);
        for (int i = 0; i < States; i++)
        {
            double[] x = State(random, bench);
            bench.Evaluate(x);
            double[,] g = bench.Dense(bench.Pass.G);
            double sum = 0;
            double rounding = 0;
            for (int row = 1; row < bench.Length; row++)
            {
                if (!SampleParts.IsNode(bench.Unknowns[row]))
                    continue;
                sum += bench.Pass.F[row];
                rounding += bench.Rounding(bench.Pass.F[row], g, row, x);
            }
            Assert.True(Math.Abs(sum) <= rounding, $"sum {sum:R}, rounding {rounding:R}, seed 20262, state {i}");
        }
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void Holding_back_ends_where_the_equations_themselves_are(string sample)
    {
        EquationBench bench = new(SampleParts.All[sample]);
        Random random = new(20_263);
        for (int i = 0; i < States; i++)
        {
            double[] x = State(random, bench);
            bench.Evaluate(x);
            double[] f = (double[])bench.Pass.F.Clone();
            double[] q = (double[])bench.Pass.Q.Clone();
            foreach (PartBank bank in bench.Banks)
                bank.Forget();
            bench.Pass.Limiting = true;
            int passes = 0;
            do
            {
                bench.Pass.Limited = false;
                bench.Evaluate(x);
            } while (bench.Pass.Limited && ++passes < 5000);
            bench.Pass.Limiting = false;
            Assert.False(bench.Pass.Limited, $"still held back after {passes} passes, seed 20263, state {i}");
            Assert.Equal(f, bench.Pass.F);
            Assert.Equal(q, bench.Pass.Q);
        }
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void Parts_stamped_one_by_one_sum_up_to_the_bank(string sample)
    {
        EquationBench bench = new(SampleParts.All[sample]);
        double[] x = State(new(20_264), bench);
        bench.Evaluate(x);
        double[] whole = [.. bench.Pass.F, .. bench.Pass.Q, .. bench.Pass.G, .. bench.Pass.C];
        double[] sum = new double[whole.Length];
        foreach (PartBank bank in bench.Banks)
            for (int part = 0; part < bank.Count; part++)
            {
                bench.Evaluate(x, bank, part);
                double[] one = [.. bench.Pass.F, .. bench.Pass.Q, .. bench.Pass.G, .. bench.Pass.C];
                for (int i = 0; i < sum.Length; i++)
                    sum[i] += one[i];
            }
        for (int i = 0; i < sum.Length; i++)
            Assert.Equal(whole[i], sum[i], 1e-12 * Math.Abs(whole[i]) + 1e-20);
    }

    /// <summary>Turns every latch over and stops the clock within the ramp that follows.</summary>
    private static void SendOutputsOnTheirWay(EquationBench bench, double time)
    {
        foreach (PartBank bank in bench.Banks)
            if (bank is ISwitching switching)
                for (int watch = 0; watch < switching.Watches; watch++)
                    switching.Cross(watch, 0);
        bench.Pass.Time = time;
    }

    /// <summary>Mostly near a common point, where junctions conduct; sometimes far apart.</summary>
    private static double[] State(Random random, EquationBench bench)
    {
        double centre = random.NextDouble() * 20 - 10;
        double reach = random.Next(3) switch
        {
            0 => 0.8,
            1 => 3,
            _ => 14,
        };
        double[] x = new double[bench.Length];
        for (int k = 1; k < x.Length; k++)
            x[k] =
                bench.Unknowns[k].Kind == UnknownKind.Current
                    ? (random.NextDouble() - 0.5) * 0.02
                    : centre + (random.NextDouble() * 2 - 1) * reach;
        return x;
    }
}
