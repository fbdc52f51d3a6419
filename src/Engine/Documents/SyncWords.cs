using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Sync;

namespace Consort.Engine.Documents;

/// <summary>What is said of an oscillator's sync beside its sound.</summary>
public static class SyncWords
{
    /// <summary>One word or two, at the lowest and the highest control voltage.</summary>
    public static string State(HeardOscillator heard, double low, double high) =>
        (heard.Holding(low), heard.Holding(high)) switch
        {
            ({ IsHeld: true }, { IsHeld: true }) => "held",
            ({ } one, { } other) => one.IsHeld || other.IsHeld ? "held at times" : "not held",
            _ => "free",
        };

    /// <summary>How far its own pitch may stand from the lead's.</summary>
    public static string Range((double From, double To)? range) =>
        range switch
        {
            null => "it is held nowhere within an octave",
            ( <= -Holding.Farthest, >= Holding.Farthest) => "it is held wherever its own pitch stands within an octave",
            var (from, to) => $"it is held while its own pitch stands {Figures.SignedCents(from)} to {Figures.SignedCents(to)} cents from there",
        };
}
