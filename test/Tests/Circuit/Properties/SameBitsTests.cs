using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Tests.Circuit.Published;
using Xunit;

namespace Consort.Tests.Circuit.Properties;

/// <summary>The same circuit gives the same bits, run after run and on any thread.</summary>
public sealed class SameBitsTests
{
    private static readonly string[] Files = ["saw.yaml", "schmitt.yaml", "resonance.yaml", "amplifier.yaml", "converter.yaml"];

    public static TheoryData<string> Circuits => [.. Files];

    private static CircuitDesign Read(string file)
    {
        (CircuitDesign? design, _) = CircuitFile.Read(Path.Combine(Reference.Root, "examples", "circuits", file));
        Assert.NotNull(design);
        return design;
    }

    private static double[] Run(CircuitDesign design)
    {
        Bench bench = new(design);
        return [.. bench.Rest.X, .. bench.After(1e-3)];
    }

    [Theory]
    [MemberData(nameof(Circuits))]
    public void Two_runs_of_one_compiled_circuit_agree_to_the_last_bit(string file)
    {
        Bench bench = new(Read(file));
        double[] first = (double[])bench.After(1e-3).Clone();
        double[] again = bench.After(1e-3);
        Assert.Equal(Bits(first), Bits(again));
    }

    [Fact]
    public void Runs_on_two_threads_at_once_agree_with_runs_alone()
    {
        foreach (string file in Files)
        {
            CircuitDesign design = Read(file);
            long[] alone = Bits(Run(design));
            long[][] together = new long[2][];
            Parallel.For(0, 2, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i => together[i] = Bits(Run(design)));
            Assert.Equal(alone, together[0]);
            Assert.Equal(alone, together[1]);
        }
    }

    private static long[] Bits(double[] values) => [.. values.Select(BitConverter.DoubleToInt64Bits)];
}
