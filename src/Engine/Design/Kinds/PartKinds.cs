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
    [.. ((PartKind[])[.. Passive(), .. Semiconductors(), .. Amplifiers(), .. Joinery(), .. Sources()]).Select(WithSpread)];

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

    // Whatever has limits says how builds lie between them. Of a value only the limits are known; what a data sheet limits
    // was sorted out of a bell, a third of its limits being typical (TL072: 3 mV typical, 10 mV at most).
    private static PartKind WithSpread(PartKind kind) =>
        !kind.Parameters.Any(parameter => parameter.IsLimit)
            ? kind
            : kind with
            {
                Parameters = [.. kind.Parameters, P("sigmas", Dimension.Ratio, 3, "for a normal spread: standard deviations from the middle to a limit")],
                Texts =
                [
                    .. kind.Texts,
                    new("spread", kind.Parameters.Contains(Tolerance) ? "uniform" : "normal", ["uniform", "normal"],
                        "how builds lie between the limits: all alike, or normal with nothing past them"),
                ],
            };

    private static ImmutableArray<ParameterSpec> InArray =>
    [
        new("array match", Dimension.Ratio, 0, "of parts in one array: largest difference of two members' relative departures", 0,
            Cause.Ratios, IsLimit: true),
        new("array drift match", Dimension.PerKelvin, 0, "of parts in one array: largest difference of two members' drifts", 0,
            Cause.Ratios, IsLimit: true),
    ];

    private static TextSpec ArrayName => new("array", "", [], "name of the array that it is one of: made together, so that members depart together");

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
