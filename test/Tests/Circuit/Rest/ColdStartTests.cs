using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Xunit;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Circuit.Rest;

/// <summary>The operating point of whole voices, from nothing.</summary>
public sealed class ColdStartTests
{
    // The patched voice did not: its last moves of a picovolt are the rounding of sums inside the op amps.
    [Theory]
    [InlineData("quartet")]
    [InlineData("pair")]
    [InlineData("patched")]
    [InlineData("shoestring")]
    public void Every_example_comes_to_rest_from_a_cold_start(string name)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", name));
        Compiled circuit = Compiled.Compile(VoiceCircuit.Build(voice!));
        (RestState? state, Consort.Engine.Circuit.SolveFailure? failure) = new OperatingPoint(circuit).Find();
        Assert.True(state is not null, $"{failure}");
        Assert.DoesNotContain(state.X, double.IsNaN);
    }
}
