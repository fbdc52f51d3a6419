namespace Consort.Engine.Circuit.Motion;

/// <summary>A method without Newton, and one with it for what it cannot follow: see <see cref="MixedMaker"/>.</summary>
/// <param name="Quick">For most of the time.</param>
/// <param name="Sure">While something turns.</param>
public sealed record Mixed(Rosenbrock Quick, Tableau Sure)
    : StepMethod($"{Quick.Name} with {Sure.Name}", Math.Min(Quick.Order, Sure.Order), Math.Min(Quick.EmbeddedOrder, Sure.EmbeddedOrder))
{
    /// <summary>Of order 4.</summary>
    public static Mixed Fourth { get; } = new(Rosenbrock.Rodas, Tableau.Fourth);

    /// <inheritdoc/>
    public override int Stages => Quick.Stages;

    internal override StepMaker Maker(Circuit circuit, Accuracy accuracy, IEnumerable<int> reads)
    {
        int[] read = [.. reads];
        Charges charges = new(circuit);
        return new MixedMaker(circuit, new(circuit, Quick, accuracy, read, charges), new(circuit, Sure, accuracy.Taped, read, charges));
    }
}
