using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>One part of a circuit, complete: every terminal joined, every parameter of its kind given a value
/// (written in the file, else from the parts library, else the kind's default), in SI units.</summary>
/// <param name="Name">Reference designator; in a voice preceded by its module, as <c>lead/R3</c>.</param>
/// <param name="Kind">Its kind, from <see cref="PartKinds"/>.</param>
/// <param name="Terminals">Terminal word to net name, in the kind's order.</param>
/// <param name="Numbers">Parameter word to value in SI units. The main value's word is <c>value</c>.</param>
/// <param name="Texts">Parameter word to text: model names, tapers, formulas.</param>
/// <param name="Written">The words that stand in the file itself (the rest are library values or defaults).</param>
/// <param name="At">Where it stands in the input.</param>
public sealed record Part(
    string Name,
    PartKind Kind,
    ImmutableArray<Joint> Terminals,
    ImmutableDictionary<string, double> Numbers,
    ImmutableDictionary<string, string> Texts,
    ImmutableHashSet<string> Written,
    SourceSpan At
)
{
    /// <summary>Set on wiring that the program adds (cords, ribbons, supply): the budget's column for the whole of its
    /// main value, and the value at which it would do no harm. Null for parts of a module.</summary>
    public WiringCost? Wiring { get; init; }

    /// <summary>The net on a terminal; null when an optional terminal is left open.</summary>
    public string? NetAt(string terminal)
    {
        foreach (Joint joint in Terminals)
            if (joint.Terminal == terminal)
                return joint.Net;
        return null;
    }

    /// <summary>True when a terminal that has to be named was left open on purpose: it stands alone on a net that bears
    /// its own name.</summary>
    public bool LeavesOpen(string terminal) => NetAt(terminal) == OpenNet(Name, terminal);

    /// <summary>The net of a terminal that is left open on purpose.</summary>
    public static string OpenNet(string part, string terminal) => $"{part} {terminal}";

    /// <summary>A parameter in SI units.</summary>
    /// <exception cref="KeyNotFoundException">The kind has no such parameter: a mistake in our own code.</exception>
    public double Number(string word) =>
        Numbers.TryGetValue(word, out double value)
            ? value
            : throw new KeyNotFoundException($"{Name}: a {Kind.Word} has no number '{word}'");
}

/// <summary>One terminal of a part and the net that it joins.</summary>
public readonly record struct Joint(string Terminal, string Net);

/// <summary>Where the effect of a piece of wiring is booked.</summary>
/// <param name="Cause">The budget's column.</param>
/// <param name="Ideal">The main value at which it does no harm, SI units: 0 for what is in series or between wires,
/// infinity for what loads a wire.</param>
public readonly record struct WiringCost(Cause Cause, double Ideal)
{
    /// <summary>What its contacts may carry, A.</summary>
    public double Rating { get; init; } = double.PositiveInfinity;
}

/// <summary>A circuit with nothing left to look up: what the engine compiles.</summary>
/// <param name="Name">For messages.</param>
/// <param name="Parts">All parts, in the order of the file.</param>
public sealed record CircuitDesign(string Name, ImmutableArray<Part> Parts)
{
    /// <summary>The net that all voltages are measured against.</summary>
    public const string Ground = "0 V";
}
