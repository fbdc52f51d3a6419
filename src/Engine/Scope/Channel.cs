using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Scope;

/// <summary>What a probe touches: its tip at one net, its ground clip at another, as at the bench.</summary>
/// <param name="Name">A jack (<c>lead/saw</c>) or a net (<c>lead/saw core</c>).</param>
/// <param name="Tip">Unknown of the net under the tip.</param>
/// <param name="Clip">Unknown of the net under the clip: the jack's sleeve, the module's own 0 V, or the star point.</param>
public sealed record Channel(string Name, int Tip, int Clip)
{
    /// <summary>Its voltage in a state of the circuit, V.</summary>
    public double Volts(double[] x) => x[Tip] - x[Clip];

    /// <summary>The channels of those names, and a fault for each that is neither jack nor net.</summary>
    public static (ImmutableArray<Channel> Channels, ImmutableArray<WordFault> Faults) Find(
        Voice voice,
        Engine.Circuit.Circuit circuit,
        IEnumerable<string> names
    )
    {
        Dictionary<JackName, Socket> sockets = Sockets.Of(voice);
        ImmutableArray<Channel>.Builder channels = ImmutableArray.CreateBuilder<Channel>();
        ImmutableArray<WordFault>.Builder faults = ImmutableArray.CreateBuilder<WordFault>();
        foreach (string name in names)
            if (Find(name, sockets, voice, circuit) is { } channel)
                channels.Add(channel);
            else
                faults.Add(new($"there is no jack and no net '{name}'", Mend(name, sockets.Keys.Select(jack => jack.ToString()), circuit)));
        return (channels.ToImmutable(), faults.ToImmutable());
    }

    /// <summary>What is shown when nothing is asked for: the first output of every oscillator.</summary>
    public static ImmutableArray<string> FirstOutputs(Voice voice) =>
        [
            .. voice.Members.Where(member => member.Module.Pitch is not null)
                .Select(member => (member.Name, Jack: member.Module.Circuit.FirstOrDefault(IsOutput)))
                .Where(pair => pair.Jack is not null)
                .Select(pair => $"{pair.Name}/{pair.Jack!.Texts["label"]}"),
        ];

    /// <summary>All output jacks of a module, by label.</summary>
    public static ImmutableArray<string> Outputs(Module module) => [.. module.Circuit.Where(IsOutput).Select(jack => jack.Texts["label"])];

    private static bool IsOutput(Part part) => part.Kind.Word == "jack" && part.Texts["value"] == "output";

    private static Channel? Find(string name, Dictionary<JackName, Socket> sockets, Voice voice, Engine.Circuit.Circuit circuit)
    {
        int slash = name.IndexOf('/', StringComparison.Ordinal);
        if (slash > 0 && sockets.TryGetValue(new(name[..slash], name[(slash + 1)..]), out Socket socket)
            && circuit.Nets.TryGetValue(socket.Tip, out int tip) && circuit.Nets.TryGetValue(socket.Return, out int sleeve))
            return new(name, tip, sleeve);
        if (!circuit.Nets.TryGetValue(name, out int net))
            return null;
        string ground = slash > 0 && voice.Members.Any(member => member.Name == name[..slash]) ? MemberParts.Net(name[..slash], CircuitDesign.Ground) : "";
        return new(name, net, circuit.Nets.GetValueOrDefault(ground));
    }

    private static string Mend(string name, IEnumerable<string> jacks, Engine.Circuit.Circuit circuit)
    {
        string[] known = [.. jacks, .. circuit.Nets.Keys];
        if (NearName.Of(name, known) is { } near)
            return $"did you mean '{near}'?";
        string owner = name.Split('/')[0] + "/";
        string[] own = [.. known.Where(other => other.StartsWith(owner, StringComparison.Ordinal)).Distinct().Take(12)];
        return own.Length > 0 ? $"for example {string.Join(", ", own)}" : "write MODULE/JACK or MODULE/NET, as lead/saw";
    }
}
