namespace Consort.Engine.Pitch.Locking;

/// <summary>Two oscillators slipping past each other at a speed that depends on the phase between them.</summary>
public static class Slip
{
    /// <summary>Turns a second from the speeds at even steps of phase: their harmonic mean; 0 where one is zero or they differ in
    /// sign, since there the two come to rest and are locked.</summary>
    public static double Beat(ReadOnlySpan<double> speeds)
    {
        double sum = 0;
        foreach (double speed in speeds)
        {
            if (speed == 0 || speed > 0 != speeds[0] > 0)
                return 0;
            sum += 1 / speed;
        }
        return speeds.Length / sum;
    }
}
