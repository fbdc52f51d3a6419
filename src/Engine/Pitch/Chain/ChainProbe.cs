using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Chain;

/// <summary>A link with a number of followers, as it stands at rest at a few notes.</summary>
/// <param name="Followers">How many.</param>
/// <param name="Names">The followers, in order.</param>
/// <param name="Cents">Pitch of each follower against the lead by timing currents: [follower][note], cents from an
/// arbitrary zero that does not depend on how many there are.</param>
/// <param name="DriveLeft">Least current left in any link buffer, A, and which.</param>
/// <param name="Stability">Of each link buffer.</param>
/// <param name="GroundOffset">Largest voltage between a follower's and the lead's 0 V, V.</param>
/// <param name="RailDrop">Largest loss of a rail at a follower, V.</param>
/// <param name="RailLoads">Share of its limit that each rail carries, by rail.</param>
/// <param name="Contact">The contact that carries the largest share of its rating; null when none is rated.</param>
internal sealed record ChainState(
    int Followers,
    ImmutableArray<string> Names,
    double[][] Cents,
    (double Amps, string Buffer) DriveLeft,
    (LoopStability Loop, string Buffer) Stability,
    double GroundOffset,
    double RailDrop,
    ImmutableArray<RailLoad> RailLoads,
    ContactLoad? Contact
);

/// <summary>Reads a link with a number of followers from operating points and small signals.</summary>
internal sealed class ChainProbe(Voice trimmed, double[] notes, CancellationToken cancel)
{
    /// <summary>What the maker asks.</summary>
    public Limits Limits => trimmed.Limits;

    /// <summary>The state; <paramref name="change"/> may idealise something first.</summary>
    public (ChainState? State, SolveFailure? Failure) Read(
        int followers,
        Action<Engine.Circuit.Circuit>? change = null,
        bool withStability = true
    )
    {
        Voice voice = trimmed.WithFollowers(followers);
        PlayedVoice played = PlayedVoice.Of(voice, cancel);
        change?.Invoke(played.Circuit);
        ImmutableArray<string> names = Circuit.Wiring.Followers.Of(voice);
        string lead = trimmed.Ribbons[0].From.Owner;
        ImmutableArray<string> buffers = LinkBuffers.Of(voice);
        double[][] cents = [.. names.Select(_ => new double[notes.Length])];
        (double, string) drive = (double.PositiveInfinity, "");
        double ground = 0;
        double drop = 0;
        RestState? last = null;
        for (int note = 0; note < notes.Length; note++)
        {
            (RestState? state, SolveFailure? failure) = played.RestFrom(notes[note], last?.X);
            if (state is null)
                return (null, failure);
            last = state;
            ReadPitch(played, lead, names, state, cents, note);
            drive = LeastDrive(played.Circuit, buffers, state, drive);
            ground = Math.Max(ground, GroundOffset(played.Circuit, lead, names, state));
            drop = Math.Max(drop, RailDrop(voice, played.Circuit, names, state));
        }
        (LoopStability, string) stability = (new(0, 0, 90), "");
        if (withStability && !buffers.IsEmpty)
            stability = Worst(new LoopGain(played.Circuit, last!).Of(buffers), buffers);
        ImmutableArray<RailLoad> rails = SupplyLoad.Read(voice, played.Circuit, last!);
        ImmutableArray<ContactLoad> contacts = SupplyLoad.ReadContacts(played.Circuit, last!);
        ContactLoad? contact = contacts.IsEmpty ? null : contacts[0];
        return (new(followers, names, cents, drive, stability, ground, drop, rails, contact), null);
    }

    private static void ReadPitch(
        PlayedVoice played,
        string lead,
        ImmutableArray<string> names,
        RestState state,
        double[][] cents,
        int note
    )
    {
        double Current(string member) =>
            TimingCapacitor.Size(played.Circuit, played.Oscillators.First(o => o.Name == member).TimingCapacitor, state);
        double reference = Current(lead);
        for (int i = 0; i < names.Length; i++)
            cents[i][note] = 1200 * Math.Log2(Current(names[i]) / reference);
    }

    private static (double, string) LeastDrive(
        Engine.Circuit.Circuit circuit,
        ImmutableArray<string> buffers,
        RestState state,
        (double Amps, string Buffer) least
    )
    {
        foreach (string buffer in buffers)
        {
            double output = circuit.Current(buffer, "out", state.X, 0, Regime.Rest);
            double left = circuit[buffer, "current limit"] - Math.Abs(output);
            if (left < least.Amps)
                least = (left, buffer);
        }
        return least;
    }

    private static double GroundOffset(
        Engine.Circuit.Circuit circuit,
        string lead,
        ImmutableArray<string> names,
        RestState state
    )
    {
        double Ground(string member) => state.X[circuit.Net(MemberParts.Net(member, CircuitDesign.Ground))];
        return names.IsEmpty ? 0 : names.Max(name => Math.Abs(Ground(name) - Ground(lead)));
    }

    private static double RailDrop(
        Voice voice,
        Engine.Circuit.Circuit circuit,
        ImmutableArray<string> names,
        RestState state
    )
    {
        double worst = 0;
        foreach (string name in names)
            foreach (Rail rail in voice.Supply.Rails)
                if (circuit.Nets.TryGetValue(MemberParts.Net(name, rail.Name), out int net))
                {
                    double seen = state.X[net] - state.X[circuit.Net(MemberParts.Net(name, CircuitDesign.Ground))];
                    worst = Math.Max(worst, Math.Abs(rail.Voltage) - Math.Abs(seen));
                }
        return worst;
    }

    private static (LoopStability, string) Worst(LoopStability[] loops, ImmutableArray<string> buffers)
    {
        int worst = 0;
        for (int i = 1; i < loops.Length; i++)
            if (loops[i].PeakingDb > loops[worst].PeakingDb)
                worst = i;
        return (loops[worst], buffers[worst]);
    }
}
