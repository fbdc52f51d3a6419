using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

/// <summary>One oscillator of a voice and where its pitch is read in the voice's circuit.</summary>
/// <param name="Member">Its place in the voice.</param>
/// <param name="Spec">How its pitch is read.</param>
/// <param name="Probe">The crossing that is counted.</param>
/// <param name="TimingCapacitor">The capacitor whose charging sets the period, with the member's name in front.</param>
public sealed record Oscillator(Member Member, PitchSpec Spec, Probe Probe, string TimingCapacitor)
{
    /// <summary>The member's name.</summary>
    public string Name => Member.Name;

    /// <summary>Where it should be at a keyboard voltage, Hz; its interval from the voice's pitch included.</summary>
    public double IdealHertz(double volts) => Spec.IdealHertz(volts, Member.StandsCents);

    /// <summary>Error against the ideal, cents; positive is sharp.</summary>
    public double Cents(double volts, double hertz) => 1200 * Math.Log2(hertz / IdealHertz(volts));

    /// <summary>The part of that designator in the voice's circuit.</summary>
    public string Part(string designator) => $"{Name}/{designator}";
}
