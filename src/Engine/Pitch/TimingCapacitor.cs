using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;

namespace Consort.Engine.Pitch;

/// <summary>The current that a timing capacitor is held against at rest: what will charge it when it is let go.</summary>
public static class TimingCapacitor
{
    /// <summary>Current out of its 'from' terminal into the circuit, A.</summary>
    public static double Current(Engine.Circuit.Circuit circuit, string capacitor, RestState state) =>
        state.X[Branch(circuit, capacitor)];

    /// <summary>Its size, A: pitch follows its logarithm.</summary>
    public static double Size(Engine.Circuit.Circuit circuit, string capacitor, RestState state) => Math.Abs(Current(circuit, capacitor, state));

    /// <summary>The unknown that is that current.</summary>
    public static int Branch(Engine.Circuit.Circuit circuit, string capacitor)
    {
        for (int i = 1; i < circuit.Length; i++)
            if (
                circuit.Unknowns[i].Kind == UnknownKind.Current
                && circuit.Unknowns[i].Name.StartsWith(capacitor + " ", StringComparison.Ordinal)
            )
                return i;
        throw new KeyNotFoundException($"{capacitor} has no held current: it must state 'starts at'");
    }
}
