namespace Consort.Engine.Sound.Live;

/// <summary>A value that follows where its control stands with a time constant, and comes to rest there.</summary>
/// <param name="value">Where it starts.</param>
/// <param name="seconds">Time constant.</param>
/// <param name="stepsPerSecond">How often it is moved on.</param>
internal sealed class SmoothValue(double value, double seconds, double stepsPerSecond)
{
    private const double Rest = 1e-9; // of cents, volts and ratios alike: below what floats can show of them

    private readonly double keep = Math.Exp(-1 / (seconds * stepsPerSecond));
    private double target = value;

    /// <summary>Where it is.</summary>
    public double Value { get; private set; } = value;

    /// <summary>True while it is on its way.</summary>
    public bool Moves => Value != target;

    /// <summary>Where it is to go.</summary>
    public void Aim(double at) => target = at;

    /// <summary>One step on.</summary>
    public void Step() => Value = Math.Abs(Value - target) > Rest ? target + (Value - target) * keep : target;
}
