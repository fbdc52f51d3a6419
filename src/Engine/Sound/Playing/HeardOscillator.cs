using System.Collections.Immutable;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Sync;

namespace Consort.Engine.Sound.Playing;

/// <summary>How an oscillator is heard at a control voltage.</summary>
/// <param name="Hertz">Its mean frequency.</param>
/// <param name="IsHeld">True when another holds it by sync.</param>
/// <param name="Leads">True of the one by which others are held.</param>
public readonly record struct HeardPitch(double Hertz, bool IsHeld, bool Leads)
{
    /// <summary>True when the two keep in step.</summary>
    public bool KeepsStepWith(HeardPitch other) => (IsHeld && (other.IsHeld || other.Leads)) || (Leads && other.IsHeld);
}

/// <summary>An oscillator of a mixer with its interval, and with the one that may hold it by sync.</summary>
public sealed class HeardOscillator
{
    private readonly SoundLaw law;
    private readonly SoundLaw lead;
    private readonly double moved; // cents
    private readonly double leadMoved;

    private HeardOscillator(SoundLaw law, double moved, SoundLaw lead, double leadMoved) =>
        (this.law, this.moved, this.lead, this.leadMoved) = (law, moved, lead, leadMoved);

    /// <summary>A strip's.</summary>
    public static HeardOscillator Of(ImmutableArray<SoundLaw> laws, ImmutableArray<Strip> strips, Strip strip) =>
        new(laws.First(law => law.Oscillator.Name == strip.Oscillator), strip.MovedCents, laws[0], LeadMoved(laws, strips));

    /// <summary>Cents by which the mixer moves the lead; none when it is not in it.</summary>
    internal static double LeadMoved(ImmutableArray<SoundLaw> laws, ImmutableArray<Strip> strips) =>
        strips.FirstOrDefault(strip => strip.Oscillator == laws[0].Oscillator.Name)?.MovedCents ?? 0;

    /// <summary>The oscillator's name.</summary>
    public string Name => law.Oscillator.Name;

    /// <summary>What sync does to it at a control voltage; null when nothing pulls it.</summary>
    public Holding? Holding(double volts) =>
        law.Sync is { } sync ? Sync.Holding.Of(sync, lead.Pitch.Hertz(volts, leadMoved), law.Pitch.Hertz(volts, moved)) : null;

    /// <summary>How far its own pitch may stand from the lead's and it is held, cents; null when nothing pulls it or it is held nowhere.</summary>
    public (double From, double To)? HeldRange(double volts)
    {
        double leading = lead.Pitch.Hertz(volts, leadMoved);
        return law.Sync is { } sync ? Sync.Holding.Range(sync, leading, 1200 * Math.Log2(law.Pitch.Hertz(volts, moved) / leading)) : null;
    }

    /// <summary>How it is heard.</summary>
    public HeardPitch At(double volts)
    {
        double leading = lead.Pitch.Hertz(volts, leadMoved);
        if (Holding(volts) is not { } holding)
            return new(law.Pitch.Hertz(volts, moved), false, ReferenceEquals(law, lead));
        return new(holding.Turns * leading, holding.IsHeld, false);
    }

    /// <summary>Where its interval alone would put it, Hz.</summary>
    public double IdealHertz(double volts) => law.Oscillator.IdealHertz(volts + moved / 1200 * law.Oscillator.Spec.VoltsPerOctave);
}
