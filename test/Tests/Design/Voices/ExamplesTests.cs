using System.Collections.Immutable;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design.Voices;

public sealed class ExamplesTests
{
    public static TheoryData<string> Folders() =>
        [
            .. Directory.EnumerateFiles(Path.Combine(Golden.Root, "examples"), "voice.yaml", SearchOption.AllDirectories)
                .Select(path => Path.GetFileName(Path.GetDirectoryName(path)!))
                .Order(StringComparer.Ordinal),
        ];

    [Theory]
    [MemberData(nameof(Folders))]
    public void An_example_reads_without_a_word_and_wires_up(string name)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) =
            VoiceFolder.Read(Path.Combine(Golden.Root, "examples", name));
        Assert.Empty(errors.Select(error => error.Render()));
        Assert.NotEmpty(stock!.Items);
        CircuitDesign circuit = VoiceCircuit.Build(voice!);
        Assert.Equal(circuit.Parts.Length, circuit.Parts.Select(part => part.Name).Distinct().Count());
        Assert.All(circuit.Parts.GroupBy(part => part.Kind.Word), kind =>
            Assert.Single(kind.Select(part => string.Join(',', part.Numbers.Keys.Order(StringComparer.Ordinal))).Distinct()));
    }

    [Theory]
    [MemberData(nameof(Folders))]
    public void Every_net_of_an_examples_circuit_but_a_free_jacks_has_two_ends(string name)
    {
        Voice voice = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", name)).Voice!;
        HashSet<string> tips =
        [
            .. voice.Members.SelectMany(member =>
                member.Module.Circuit.Where(part => part.Kind.Word == "jack").Select(jack => $"{member.Name}/{jack.NetAt("tip")}")
            ),
        ];
        IEnumerable<string> single = VoiceCircuit
            .Build(voice)
            .Parts.SelectMany(part => part.Terminals)
            .CountBy(joint => joint.Net)
            .Where(net => net.Value == 1)
            .Select(net => net.Key);
        Assert.Empty(single.Except(tips)); // a jack without a plug ends in the air
    }
}
