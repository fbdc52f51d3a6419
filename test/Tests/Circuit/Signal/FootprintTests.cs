using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Signal;

/// <summary>A part's footprint is all that it ever touches: its rows elsewhere would be counted as another part's.</summary>
public sealed class FootprintTests
{
    [Theory]
    [InlineData("quartet")]
    [InlineData("pair")]
    [InlineData("patched")]
    [InlineData("shoestring")]
    public void It_holds_every_row_that_a_part_touches_while_the_voice_plays(string name)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", name));
        Bench bench = new(VoiceCircuit.Build(voice!));
        Footprints footprints = new(bench.Circuit);
        Pass alone = bench.Circuit.NewPass();
        (alone.Temperature, alone.X, alone.Regime) = (bench.Circuit.Temperature, bench.Rest.X, Regime.Motion);
        List<string> missing = [];
        foreach (PartBank bank in bench.Circuit.Banks)
            for (int i = 0; i < bank.Count; i++)
            {
                bank.Stamp(alone, i, i + 1);
                ImmutableHashSet<int> rows = [0, .. footprints.Of(new(bank, i)).Rows];
                for (int row = 0; row < alone.F.Length; row++)
                    if ((alone.F[row] != 0 || alone.Q[row] != 0) && !rows.Contains(row))
                        missing.Add($"{bank.Parts[i].Name}: {bench.Circuit.Unknowns[row].Name}");
                Array.Clear(alone.F);
                Array.Clear(alone.Q);
            }
        Assert.Empty(missing);
    }
}
