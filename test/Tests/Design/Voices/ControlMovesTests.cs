using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Design.Voices;

public sealed class ControlMovesTests
{
    private static readonly Voice Toy = ToyVoice.OnMultiple(
        1,
        ToyVoice.Oscillator(
            "toy",
            "100k",
            more: """
            P1: {potentiometer: 50k, taper: linear, position: 50%, ccw: 0 V, wiper: scaled, cw: in}
              SW1: {selector: 2, pole: pull, ways: [nothing, some, all]}
              R7: {resistor: 1k, from: pull, to: 0 V}
              R8: {resistor: 1k, from: nothing, to: 0 V}
              R10: {resistor: 1k, from: some, to: 0 V}
              R11: {resistor: 1k, from: all, to: 0 V}
            """
        )
    );

    private static ImmutableDictionary<string, double> Set(params string[] moves)
    {
        (Voice moved, ImmutableArray<WordFault> faults) = ControlMoves.Apply(Toy, moves);
        Assert.Empty(faults);
        return moved.Members[0].Set;
    }

    [Theory]
    [InlineData("o1/P1=30%")]
    [InlineData("o1/scaled = 0.3")]
    public void A_control_is_moved_by_its_part_or_by_its_wipers_net(string move) => Assert.Equal(0.3, Set(move)["P1"], 1e-12);

    [Theory]
    [InlineData("o1/SW1=3")]
    [InlineData("o1/SW1=all")]
    [InlineData("o1/pull=all")]
    public void A_selector_is_moved_to_a_way_by_number_or_net(string move) => Assert.Equal(3, Set(move)["SW1"]);

    [Theory]
    [InlineData("o1/P1", "moves nothing")]
    [InlineData("o2/P1=3%", "no module 'o2'")]
    [InlineData("o1/P2=3%", "no control 'P2'")]
    [InlineData("o1/P1=130%", "no position")]
    [InlineData("o1/SW1=4", "none of its ways")]
    [InlineData("whel=1 V", "no player 'whel'")]
    [InlineData("keyboard=1 V", "plays the pitch")]
    public void What_cannot_be_moved_is_told_with_a_mend(string move, string what)
    {
        (_, ImmutableArray<WordFault> faults) = ControlMoves.Apply(Toy, [move]);
        WordFault fault = Assert.Single(faults);
        Assert.Contains(what, fault.What, StringComparison.Ordinal);
        Assert.NotEmpty(fault.Mend);
    }

    [Fact]
    public void All_faults_are_told_in_one_go() => Assert.Equal(2, ControlMoves.Apply(Toy, ["o1/P9=1", "o1/P1=20%", "nobody=1 V"]).Faults.Length);
}
