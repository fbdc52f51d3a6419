using System.Collections.Frozen;
using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>Finds which of a lead's inputs its link hands on: each is moved by a volt, and the follower's header is looked
/// at, at rest, in the two modules' own circuits with their controls in the middle. An input that passes no direct voltage
/// (sync) is taken as not handed on.</summary>
public static class LinkReach
{
    private const double Seen = 1e-3; // V at the follower's header for 1 V at the lead's jack
    private const string Lead = "lead", Follower = "follower", Probe = "probe";

    /// <summary>Labels of the lead's inputs that move a wire of the link; empty when the two cannot be joined.</summary>
    public static FrozenSet<string> Of(Supply supply, Module lead, Module follower)
    {
        if (Header(lead, "lead") is not { } from || Header(follower, "follower") is not { } to || from.Terminals.Length != to.Terminals.Length)
            return FrozenSet<string>.Empty;
        return Jacks.Inputs(lead).Where(label => Moves(supply, lead, follower, from, to, label)).ToFrozenSet();
    }

    /// <summary>A module's header of a role, or null.</summary>
    public static Part? Header(Module module, string role) =>
        module.Circuit.FirstOrDefault(part => part.Kind.Word == "header" && part.Texts["role"] == role);

    private static bool Moves(Supply supply, Module lead, Module follower, Part from, Part to, string label)
    {
        Voice pair = Pair(supply, lead, follower, from, to, label);
        Engine.Circuit.Circuit circuit = Engine.Circuit.Circuit.Compile(VoiceCircuit.Build(pair));
        if (Rest(circuit, 0) is not { } low || Rest(circuit, 1) is not { } high)
            return false;
        return to.Terminals.Select(joint => MemberParts.Net(Follower, joint.Net)).Where(circuit.Nets.ContainsKey).Select(circuit.Net)
            .Any(net => Math.Abs(high[net] - low[net]) > Seen);
    }

    private static double[]? Rest(Engine.Circuit.Circuit circuit, double volts)
    {
        circuit[$"{Probe}/V", "value"] = volts;
        return new OperatingPoint(circuit).Find().State?.X;
    }

    private static Voice Pair(Supply supply, Module lead, Module follower, Part from, Part to, string label) =>
        new(
            "pair",
            "",
            [Stand(Lead, lead), Stand(Follower, follower)],
            [new(Probe, false, 0, 0, 1, 0, SourceSpan.None)],
            [],
            [new(new(Probe, "out"), new(Lead, label), 0.3, SourceSpan.None)],
            [new(new(Lead, from.Texts["value"]), [new(Follower, to.Texts["value"])], 0.12, 28, SourceSpan.None)],
            supply,
            new(0, 0, 0, 0, 298.15, 298.15, 0, null)
        );

    // A control that stands at its end would hide the input behind it.
    private static Member Stand(string name, Module module) =>
        new(name, module, 0, module.Circuit.Where(part => part.Kind.Word == "potentiometer").ToImmutableDictionary(part => part.Name, _ => 0.5), module.At);
}
