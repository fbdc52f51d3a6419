using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Planning;
using CsCheck;
using Xunit;

namespace Consort.Tests.Planning;

public sealed class SplittingTests
{
    private const string Full = """
        module: full
        panel: {width: 10 HP, height: 3 U}
        pitch: {control: a, law: 1 V/oct, reference: 32.703 Hz at 0 V, counted: rising through 0 V on a, timing capacitor: C1}
        circuit:
          J1: {jack: input, label: a, tip: a}
          J2: {jack: input, label: b, tip: b}
          J3: {jack: input, label: c, tip: c}
          R1: {resistor: 100k, from: a, to: 0 V}
          R2: {resistor: 100k, from: b, to: 0 V}
          R3: {resistor: 100k, from: c, to: 0 V}
          C1: {capacitor: 1n, starts at: 0 V, from: a, to: 0 V}

        """;

    [Fact]
    public void No_other_patching_of_random_small_voices_takes_fewer_multiples_or_with_as_many_fewer_cords()
    {
        Module full = ModuleReader.Parse(Full, "modules/full.yaml").Module!;
        Gen<(int Oscillators, bool[][] Wanted, int[] Ways)> voices = Gen.Select(Gen.Int[1, 4], Gen.Bool.Array[4].Array[1, 2], Gen.Int[2, 4].Array[1, 3]);
        voices.Sample(
            drawn =>
            {
                Wish[] wishes =
                [
                    .. drawn.Wanted.Select((who, i) => new Wish($"player {i}", $"{(char)('a' + i)}", [.. Enumerable.Range(0, drawn.Oscillators).Where(o => who[o]).Select(o => $"osc {o}")]))
                        .Where(wish => !wish.Oscillators.IsEmpty),
                ];
                Wired wired = Wire(full, drawn.Oscillators, wishes, drawn.Ways);
                (int multiples, int cords) = ExhaustiveWiring.Fewest([.. wishes.Select(wish => wish.Oscillators.Length)], [.. drawn.Ways], 6)!.Value;
                Assert.Equal((multiples, cords), (wired.Voice.Multiples.Length, wired.Voice.Cords.Length));
                EachIsReachedOnce(wired.Voice, wishes);
            },
            iter: 200
        );
    }

    [Fact]
    public void Of_equally_few_multiples_the_narrower_are_taken()
    {
        ImmutableArray<StockMultiple> kinds = [Kind(4, 0.020), Kind(3, 0.016), Kind(2, 0.010)];
        Assert.Equal([2], Splitting.Fewest(2, kinds)!.Value.Select(kind => kind.Ways));
        Assert.Equal([4], Splitting.Fewest(4, kinds)!.Value.Select(kind => kind.Ways));
        Assert.Equal([4, 2], Splitting.Fewest(5, kinds)!.Value.Select(kind => kind.Ways)); // 30 mm; two of three ways reach five as well, in 32 mm
        Assert.Empty(Splitting.Fewest(1, kinds)!.Value);
        Assert.Null(Splitting.Fewest(2, []));
    }

    private static StockMultiple Kind(int ways, double width) => new(false, ways, width, 0, null, 0, new("kind", false, ways, width, 0, 0, 0, SourceSpan.None));

    private static Wired Wire(Module full, int oscillators, Wish[] wishes, int[] ways)
    {
        Intent intent = new([.. Enumerable.Range(0, oscillators).Select(o => new PlannedOscillator($"osc {o}", 0))], [.. wishes], RackCase.Any);
        Voice voice = new("random", "", [], [], [], [], [], new([], 0, 0), new(3, 5, 1, 20, 288.15, 308.15, 3, null));
        LinkBook links = new(voice.Supply);
        Scheme scheme = new("passive", full, null, [.. Enumerable.Range(0, oscillators)], _ => SplitWay.Passive);
        return new Builder(voice, intent, [.. ways.Select(w => Kind(w, 0.01 * w))], links).Build(scheme)!;
    }

    // Followed from each player along cords and multiples: its wish's inputs and no others, each once.
    private static void EachIsReachedOnce(Voice voice, Wish[] wishes)
    {
        foreach (Wish wish in wishes)
        {
            List<JackName> reached = [];
            Stack<string> open = new([wish.Player]);
            while (open.TryPop(out string? owner))
                foreach (Cord cord in voice.Cords.Where(cord => cord.From.Owner == owner))
                    if (voice.Multiples.Any(multiple => multiple.Name == cord.To.Owner))
                        open.Push(cord.To.Owner);
                    else
                        reached.Add(cord.To);
            Assert.Equal(wish.Oscillators.Select(name => $"{name}/{wish.To}").Order(), reached.Select(jack => $"{jack}").Order());
        }
        Assert.Equal(voice.Cords.Length, voice.Cords.Select(cord => cord.From).Distinct().Count());
    }
}
