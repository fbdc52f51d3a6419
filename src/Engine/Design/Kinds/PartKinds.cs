using System.Collections.Frozen;
using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>All kinds of part that a circuit may hold. The reader, the JSON Schema, the printed list of kinds and the
/// engine's part models all start from this one table.</summary>
public static partial class PartKinds
{
    /// <summary>Every kind, in the order in which documents list them.</summary>
    public static ImmutableArray<PartKind> All { get; } =
    [.. Passive(), .. Semiconductors(), .. Amplifiers(), .. Joinery(), .. Sources()];

    private static readonly FrozenDictionary<string, PartKind> ByWord = All.ToFrozenDictionary(kind => kind.Word);

    /// <summary>The kind of that word, or null.</summary>
    public static PartKind? Find(string word) => ByWord.GetValueOrDefault(word);

    // Properties, not fields: 'All' above is filled before any field below it.
    private static ParameterSpec Tolerance => new(
        "tolerance",
        Dimension.Ratio,
        0,
        "half-width of the value's spread, relative",
        0,
        Cause.Ratios,
        IsLimit: true
    );

    private static ParameterSpec Drift => new(
        "drift",
        Dimension.PerKelvin,
        0,
        "limit of the value's relative change per kelvin, either sign",
        0,
        Cause.Ratios,
        IsLimit: true
    );

    private static ParameterSpec Tempco => new(
        "tempco",
        Dimension.PerKelvin,
        0,
        "known relative change of the value per kelvin, from 25 °C",
        null,
        Cause.Ratios
    );

    private static TerminalSpec Pin(string word, string meaning) => new(word, meaning);

    private static TerminalSpec Open(string word, string meaning) => new(word, meaning, Required: false);

    private static ImmutableArray<TerminalSpec> FromTo => [Pin("from", "one end"), Pin("to", "other end")];

    private static ImmutableArray<TerminalSpec> Supply =>
    [
        new("supply +", "positive supply", true, "supply"),
        new("supply -", "negative supply", true, "supply"),
    ];

    private static ParameterSpec P(
        string word,
        Dimension dimension,
        double? value,
        string meaning,
        double? ideal = null,
        Cause cause = Cause.None
    ) => new(word, dimension, value, meaning, ideal, cause);

    private static ParameterSpec Limit(
        string word,
        Dimension dimension,
        double? value,
        string meaning,
        Cause cause
    ) => new(word, dimension, value, meaning, 0, cause, IsLimit: true);
}
