namespace Consort.Engine.Circuit.Motion;

/// <summary>A one-step method with an embedded one for the local error.</summary>
/// <param name="Name">For reports.</param>
/// <param name="Order">Order of the method.</param>
/// <param name="EmbeddedOrder">Order of the embedded method.</param>
public abstract record StepMethod(string Name, int Order, int EmbeddedOrder)
{
    /// <summary>Number of stages, with an explicit one.</summary>
    public abstract int Stages { get; }

    internal abstract StepMaker Maker(Circuit circuit, Accuracy accuracy, IEnumerable<int> reads);
}
