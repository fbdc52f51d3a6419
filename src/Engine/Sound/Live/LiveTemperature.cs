namespace Consort.Engine.Sound.Live;

/// <summary>How warm a voice's parts are while what is around them is moved: a body with one time constant (Newton's law of
/// cooling), as in a piece.</summary>
internal sealed class LiveTemperature
{
    private readonly double read;
    private double from;
    private double around;
    private double constant;
    private double since;

    /// <summary>As warm as the voice was read.</summary>
    public LiveTemperature(double read) => this.read = from = around = read;

    /// <summary>Takes the controls over.</summary>
    /// <param name="seconds">Now, from the start.</param>
    public void Follow(LiveUnrest controls, double seconds)
    {
        if (read + controls.Warmer == around && controls.Following == constant)
            return;
        (from, since) = (KelvinAt(seconds), seconds);
        (around, constant) = (read + controls.Warmer, controls.Following);
    }

    /// <summary>Temperature at a moment that is not past, K.</summary>
    public double KelvinAt(double seconds) => around + (from - around) * (constant > 0 ? Math.Exp(-(seconds - since) / constant) : 0);
}
