using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Tests.Circuit.Wiring;
using Xunit;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Circuit.Rest;

/// <summary>The operating point of every example from nothing, over temperature, with a bound on the work done. The bounds
/// are half as much again as what was counted; a pass is one evaluation and one factorisation.</summary>
public sealed class ColdStartTests
{
    private const int MostPasses = 50;
    private const int MostWarmPasses = 9;

    private static readonly string Examples = Path.Combine(Golden.Root, "examples");
    private static readonly double[] Kelvins = [263.15, 298.15, 333.15];

    public static TheoryData<string> Voices =>
        [.. Directory.GetFiles(Examples, "voice.yaml", SearchOption.AllDirectories).Select(VoiceName).Order()];

    public static TheoryData<string> Circuits =>
        [.. Directory.GetFiles(Path.Combine(Examples, "circuits"), "*.yaml").Select(path => Path.GetFileName(path)!).Order()];

    [Theory]
    [MemberData(nameof(Voices))]
    public void Every_voice_comes_to_rest(string name) => MustRest(VoiceCircuit.Build(Read(name)));

    [Theory]
    [MemberData(nameof(Voices))]
    public void Every_module_comes_to_rest_by_itself_on_ideal_rails(string name)
    {
        foreach (Module module in Read(name).Members.Select(member => member.Module).DistinctBy(module => module.Name))
            MustRest(OnIdealRails(module));
    }

    [Theory]
    [MemberData(nameof(Circuits))]
    public void Every_single_circuit_comes_to_rest(string file)
    {
        (CircuitDesign? design, _) = CircuitFile.Read(Path.Combine(Examples, "circuits", file));
        MustRest(design!);
    }

    [Theory]
    [InlineData("quartet", 0)]
    [InlineData("quartet", 8)]
    [InlineData("quartet", 16)]
    [InlineData("pair", 0)]
    [InlineData("pair", 16)]
    [InlineData("shoestring", 16)]
    public void Any_number_of_followers_comes_to_rest_in_no_more_passes(string name, int followers) =>
        MustRest(VoiceCircuit.Build(Read(name).WithFollowers(followers)));

    [Theory]
    [MemberData(nameof(Voices))]
    public void A_neighbouring_rest_is_near(string name)
    {
        Voice voice = Read(name);
        Compiled circuit = Compiled.Compile(VoiceCircuit.Build(voice));
        OperatingPoint point = new(circuit);
        double[] known = Found(point.Find(), MostPasses);
        foreach (Player player in voice.Players.Where(player => player.IsPitch))
            circuit[$"{player.Name}/V", "value"] += 1;
        known = Found(point.Find(known), MostWarmPasses);
        foreach (Part trimmer in circuit.Design.Parts.Where(part => part.Kind.Word == "trimmer"))
            circuit[trimmer.Name, "position"] += circuit[trimmer.Name, "position"] < 0.5 ? 0.05 : -0.05;
        Found(point.Find(known), MostWarmPasses);
    }

    [Fact]
    public void A_cold_start_gives_the_same_bits_again()
    {
        CircuitDesign design = VoiceCircuit.Build(Read("quartet"));
        Compiled circuit = Compiled.Compile(design);
        OperatingPoint point = new(circuit);
        double[] first = Found(point.Find(), MostPasses);
        Assert.Equal(first, Found(new OperatingPoint(Compiled.Compile(design)).Find(), MostPasses));
        // By now the order of elimination is known; from here on neither that nor what ran before makes a difference.
        double[] second = Found(point.Find(), MostPasses);
        circuit.SetTemperature(333.15);
        Found(point.Find(first), MostPasses);
        circuit.SetTemperature(Constants.ReferenceTemperature);
        Assert.Equal(second, Found(point.Find(), MostPasses));
        Assert.Equal(second, Found(new OperatingPoint(circuit).Find(), MostPasses));
    }

    private static void MustRest(CircuitDesign design)
    {
        Compiled circuit = Compiled.Compile(design);
        OperatingPoint point = new(circuit);
        foreach (double kelvin in Kelvins)
        {
            circuit.SetTemperature(kelvin);
            double[] x = Found(point.Find(), MostPasses);
            string? breach = Kirchhoff.Breach(circuit, x);
            Assert.True(breach is null, breach);
            // Newton once more only stirs the rounding: that of 100 A, the closed selector's 20 S times 5 V, into 100 kΩ.
            Assert.Equal(x, Found(point.Find(x), 2), (one, other) => Math.Abs(one - other) <= 1e-8);
        }
    }

    private static double[] Found((RestState? State, SolveFailure? Failure) result, int mostPasses)
    {
        Assert.True(result.State is not null, $"{result.Failure}");
        Assert.InRange(result.State.Passes, 1, mostPasses);
        Assert.All(result.State.X, value => Assert.True(double.IsFinite(value)));
        return result.State.X;
    }

    /// <summary>The module with a source at every rail and, where it follows, 1 kΩ to 0 V at every wire of its link.</summary>
    private static CircuitDesign OnIdealRails(Module module)
    {
        List<Part> parts = [.. module.Circuit];
        foreach (string net in NetsOf(module, part => part.Kind.Word is "power" or "header"))
            if (net.EndsWith(" V", StringComparison.Ordinal) && net != CircuitDesign.Ground)
                parts.Add(Make.Part($"rail {net}", "voltage source", double.Parse(net[..^2], CultureInfo.InvariantCulture), net, CircuitDesign.Ground));
        foreach (string net in NetsOf(module, part => part.Texts.GetValueOrDefault("role") == "follower"))
            if (!net.EndsWith(" V", StringComparison.Ordinal))
                parts.Add(Make.Part($"wire {net}", "resistor", 1000, net, CircuitDesign.Ground));
        return new(module.Name, [.. parts]);
    }

    private static IEnumerable<string> NetsOf(Module module, Func<Part, bool> which) =>
        module.Circuit.Where(which).SelectMany(part => part.Terminals).Select(joint => joint.Net).Distinct();

    private static Voice Read(string name)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Examples, name));
        return voice!;
    }

    private static string VoiceName(string path) => Path.GetFileName(Path.GetDirectoryName(path)!);
}
