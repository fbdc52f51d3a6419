using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Chain;

/// <summary>Finds what would let a link carry more: each suspect is made ideal in turn and the failing link read again.</summary>
internal static class ChainMend
{
    private sealed record Suspect(string What, string Mend, Func<Part, bool> Is, string Word);

    private static readonly Suspect[] Suspects =
    [
        new("the shared ground wire of the supply", "a thicker ground wire between the slots, or a supply lead for each module",
            part => part.Wiring?.Cause == Cause.Ground && part.Name.StartsWith("supply/", StringComparison.Ordinal), "value"),
        new("the ribbon and its contacts", "a shorter or thicker ribbon, or receivers that look at the link's own return",
            part => part.Wiring is not null && part.Wiring?.Cause is Cause.Link or Cause.Ground or Cause.Loading
                && !part.Name.StartsWith("supply/", StringComparison.Ordinal), "value"),
        new("the rails' wiring", "thicker rail wires or a regulator in each module",
            part => part.Wiring?.Cause == Cause.Supply, "value"),
        new("the output resistance of the link's buffers", "a buffer with its feedback taken from the header's pin",
            part => part.Kind.Word == "op amp", "output resistance"),
    ];

    /// <summary>The suspect without which the link would fare best, in words; null when none helps.</summary>
    public static string? For(ChainProbe probe, ChainState[] states, ChainPoint failing, double[] notes)
    {
        ChainState failed = states[failing.Followers];
        if (failed.DriveLeft.Amps < 0)
            return $"a stronger buffer in place of {failed.DriveLeft.Buffer}, or receivers of higher input resistance";
        if (failed.Stability.Loop.PeakingDb > ChainLimit.PeakingLimitDb)
            return $"a larger resistor between {failed.Stability.Buffer} and the header, with a small capacitor from the op amp's output to its input";
        (double before, _) = ChainLimit.WorstShift(failed, states);
        if (Math.Abs(before) <= probe.Limits.FollowerCents)
            return WithoutPitch(failed);
        string? best = null;
        double least = 0.9 * Math.Abs(before);
        foreach (Suspect suspect in Suspects)
            if (ShiftWithout(suspect, probe, states, failing.Followers) is { } left && Math.Abs(left) < least)
                (best, least) = ($"{suspect.Mend}: with {suspect.What} made ideal {Math.Abs(left):F2} cents would be left of {Math.Abs(before):F2}", Math.Abs(left));
        return best;
    }

    // What mends a link whose pitch is right: only current is left to fail.
    private static string? WithoutPitch(ChainState failed)
    {
        if (failed.RailLoads.FirstOrDefault(rail => rail.Amps > rail.Limit) is { Rail: { } rail })
            return $"a supply that gives more on the {rail} rail";
        return failed.Contact is { } contact && contact.Amps > contact.Rating ? "more wires side by side for that net" : null;
    }

    private static double? ShiftWithout(Suspect suspect, ChainProbe probe, ChainState[] states, int followers)
    {
        void Idealise(Engine.Circuit.Circuit circuit)
        {
            foreach (Part part in circuit.Design.Parts)
                if (suspect.Is(part) && part.Numbers.ContainsKey(suspect.Word) && part.Wiring is not { Ideal: double.PositiveInfinity })
                    circuit[part.Name, suspect.Word] *= 1e-3;
        }
        ChainState[] changed = new ChainState[followers + 1];
        for (int n = 1; n <= followers; n++)
        {
            if (probe.Read(n, Idealise, withStability: false).State is not { } state)
                return null;
            changed[n] = state;
        }
        return ChainLimit.WorstShift(changed[followers], changed).Cents;
    }
}
