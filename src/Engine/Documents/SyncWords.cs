using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Sync;

namespace Consort.Engine.Documents;

/// <summary>What is said of an oscillator's sync beside its sound.</summary>
public static class SyncWords
{
    /// <summary>How far its own pitch may stand from the lead's and it is held, in the middle of what was read.</summary>
    public static string Of(SoundLaw law, SoundLaw lead)
    {
        if (law.Sync is not { } sync)
            return "free";
        double volts = 0.5 * (lead.Pitch.Points[0].Volts + lead.Pitch.Points[^1].Volts);
        if (Holding.Range(sync, lead.Pitch.Hertz(volts)) is not var (from, to))
            return "pulled, held nowhere";
        return from <= -Holding.Farthest && to >= Holding.Farthest ? "held at any pitch" : $"held {Figures.SignedCents(from)} to {Figures.SignedCents(to)} cents from the lead";
    }
}
