using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>What stands after the kind's word in the file: <c>{resistor: 100k, ...}</c>.</summary>
public enum MainValue
{
    /// <summary>A quantity, kept as the number <c>value</c>.</summary>
    Quantity,
    /// <summary>A name from the parts library (or <c>ideal</c>), kept as the text <c>model</c>.</summary>
    Model,
    /// <summary>Arithmetic of net voltages, time and temperature, kept as the text <c>formula</c>.</summary>
    Formula,
    /// <summary>A quantity or a formula.</summary>
    QuantityOrFormula,
    /// <summary>A plain word from a short list, kept as the text <c>value</c>.</summary>
    Word,
}

/// <summary>Why a departure from the ideal costs pitch: the budget's columns.</summary>
public enum Cause
{
    /// <summary>Not a source of pitch error by itself.</summary>
    None,
    /// <summary>Source resistance, cords and multiples against input resistance.</summary>
    Loading,
    /// <summary>Resistor (and capacitor) values and their ratios.</summary>
    Ratios,
    /// <summary>Offsets and bias currents of op amps and pairs.</summary>
    Offsets,
    /// <summary>The exponential converter: bulk resistance, gain, Early effect, temperature.</summary>
    Converter,
    /// <summary>Delay and dead time of the core's switching.</summary>
    Reset,
    /// <summary>Leakage that adds to or takes from small currents.</summary>
    Leakage,
    /// <summary>The ribbon and its buffers.</summary>
    Link,
    /// <summary>Voltage along shared ground wires.</summary>
    Ground,
    /// <summary>Voltage along supply wires and what the rails' movement does.</summary>
    Supply,
}

/// <summary>One terminal of a kind.</summary>
/// <param name="Word">Its word in the file.</param>
/// <param name="Meaning">In one line.</param>
/// <param name="Required">False for terminals that may stay open.</param>
/// <param name="List">The list it belongs to, as <c>supply: [+12 V, -12 V]</c>; null when it stands by itself.</param>
public sealed record TerminalSpec(string Word, string Meaning, bool Required = true, string? List = null);

/// <summary>One parameter of a kind.</summary>
/// <param name="Word">Its word in the file.</param>
/// <param name="Dimension">What it measures.</param>
/// <param name="Default">Value when neither file nor library gives one, SI units; null when it must be given.</param>
/// <param name="Meaning">In one line.</param>
/// <param name="Ideal">The value at which it does no harm; null when there is none or when it is the design itself.</param>
/// <param name="Cause">The budget's column for a departure from the ideal or the nominal.</param>
/// <param name="IsLimit">True for half-widths of what builds do (tolerance, drift, offset within): they move no
/// nominal result, and carry the spread.</param>
public sealed record ParameterSpec(
    string Word,
    Dimension Dimension,
    double? Default,
    string Meaning,
    double? Ideal = null,
    Cause Cause = Cause.None,
    bool IsLimit = false
)
{
    /// <summary>The value at which it would cost no pitch, where an ideal part keeps another (an amplifier without limit
    /// of speed cannot be followed in time); null where <see cref="Ideal"/> says it.</summary>
    public double? HarmlessAt { get; init; }
}

/// <summary>A text parameter and the words it may take (empty: any text).</summary>
public sealed record TextSpec(string Word, string? Default, ImmutableArray<string> Words, string Meaning);

/// <summary>A kind of part: its terminals, parameters and the published model behind it.</summary>
/// <param name="Word">The key that names the kind in the file.</param>
/// <param name="Meaning">In one line.</param>
/// <param name="Main">What stands after the word.</param>
/// <param name="ValueDimension">Dimension of the main value, where it is a quantity.</param>
/// <param name="Terminals">In order.</param>
/// <param name="Parameters">Besides the main value, which is the number <c>value</c>.</param>
/// <param name="Texts">Text parameters.</param>
/// <param name="Source">The published model.</param>
public sealed record PartKind(
    string Word,
    string Meaning,
    MainValue Main,
    Dimension? ValueDimension,
    ImmutableArray<TerminalSpec> Terminals,
    ImmutableArray<ParameterSpec> Parameters,
    ImmutableArray<TextSpec> Texts,
    string Source
)
{
    /// <summary>The list whose length is free (a selector's <c>ways</c>, a header's <c>pins</c>); null for most kinds.
    /// Its terminals are named <c>way 1</c>, <c>way 2</c>, ... (the list's singular and a number from 1).</summary>
    public string? FreeList { get; init; }

    /// <summary>The budget's column for the main value's own tolerance.</summary>
    public Cause ValueCause { get; init; } = Cause.Ratios;
}
