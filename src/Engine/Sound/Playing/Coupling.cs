namespace Consort.Engine.Sound.Playing;

/// <summary>A coupling capacitor: first-order high-pass.</summary>
internal sealed class Coupling(int rate)
{
    private readonly double share = 1 - Math.Exp(-2 * Math.PI * SoundSettings.CouplingHertz / rate);
    private double held;

    /// <summary>Sample in, sample out.</summary>
    public double Next(double sample)
    {
        held += share * (sample - held);
        return sample - held;
    }
}
