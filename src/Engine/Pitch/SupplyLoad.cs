using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

/// <summary>What a voice takes from one rail.</summary>
public readonly record struct RailLoad(string Rail, double Amps, double Limit);

/// <summary>What a contact of a ribbon or power connector carries.</summary>
public readonly record struct ContactLoad(string Wire, double Amps, double Rating);

/// <summary>What a voice takes from its supply at rest in the middle of the keyboard; outputs at rest, so not the
/// current into what is plugged into them.</summary>
/// <param name="Rails">By rail.</param>
/// <param name="Contacts">Of each ribbon and power connector, the heaviest loaded first.</param>
public sealed record SupplyLoad(ImmutableArray<RailLoad> Rails, ImmutableArray<ContactLoad> Contacts)
{
    /// <summary>Reads it.</summary>
    public static SupplyLoad Of(PlayedVoice voice) =>
        voice.Rest(voice.MiddleVolts).State is { } state
            ? new(Read(voice.Voice, voice.Circuit, state), ReadContacts(voice.Circuit, state))
            : new([], []);

    /// <summary>What every rated contact carries at an operating point, the heaviest loaded first.</summary>
    internal static ImmutableArray<ContactLoad> ReadContacts(Engine.Circuit.Circuit circuit, RestState state) =>
        [
            .. circuit
                .Design.Parts.Where(part => part.Wiring is { Rating: < double.PositiveInfinity })
                .Select(part => new ContactLoad(
                    part.Name,
                    Math.Abs(circuit.Current(part.Name, "from", state.X, 0, Regime.Rest)),
                    part.Wiring!.Value.Rating
                ))
                .OrderByDescending(load => load.Amps / load.Rating)
                .ThenBy(load => load.Wire, StringComparer.Ordinal),
        ];

    /// <summary>Every rail's current at an operating point.</summary>
    internal static ImmutableArray<RailLoad> Read(Voice voice, Engine.Circuit.Circuit circuit, RestState state) =>
        [
            .. voice.Supply.Rails.Select(rail => new RailLoad(
                rail.Name,
                Math.Abs(circuit.Current(SupplyWiring.Net(rail.Name), "plus", state.X, 0, Regime.Rest)),
                rail.Limit
            )),
        ];
}
