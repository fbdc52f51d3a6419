using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Consort.Engine.Quantities;

/// <summary>One spelling of a unit: value in SI = number · 10^Exponent · Scale + Offset.</summary>
internal readonly record struct Unit(Dimension Dimension, int Exponent, double Scale = 1, double Offset = 0);

/// <summary>Every spelling of every unit that is read, after <see cref="Plain(string)"/> has been applied.</summary>
internal static class Units
{
    private static readonly ImmutableArray<(string Letter, int Exponent)> Prefixes =
    [
        ("T", 12), ("G", 9), ("M", 6), ("k", 3), ("K", 3), ("", 0), ("m", -3), ("u", -6), ("n", -9), ("p", -12), ("f", -15),
    ];

    private static readonly (string Spelling, int Exponent)[] Kelvin = [("K", 0), ("degC", 0)];

    private static readonly (string Spelling, int Exponent)[] Metre = [("m", 0), ("km", -3), ("cm", 2)];

    private static readonly FrozenDictionary<string, ImmutableArray<Unit>> BySpelling = All()
        .GroupBy(pair => pair.Spelling)
        .ToFrozenDictionary(group => group.Key, group => group.Select(pair => pair.Unit).ToImmutableArray());

    /// <summary>The exponent of a lone multiplier letter, as in 100n; null when the text is none.</summary>
    public static int? Multiplier(string letter)
    {
        foreach ((string known, int exponent) in Prefixes)
            if (known == letter && letter.Length == 1)
                return exponent;
        return null;
    }

    /// <summary>The unit of that spelling in a dimension; null when there is none.</summary>
    public static Unit? Find(string spelling, Dimension dimension)
    {
        if (BySpelling.TryGetValue(spelling, out ImmutableArray<Unit> units))
            foreach (Unit unit in units)
                if (unit.Dimension == dimension)
                    return unit;
        return null;
    }

    /// <summary>Every spelling of a dimension's units, in order.</summary>
    public static IEnumerable<string> Spellings(Dimension dimension) =>
        BySpelling.Where(pair => pair.Value.Any(unit => unit.Dimension == dimension)).Select(pair => pair.Key).Order(StringComparer.Ordinal);

    /// <summary>What a spelling means elsewhere, for the message; null when it is no unit at all.</summary>
    public static Dimension? Elsewhere(string spelling) =>
        BySpelling.TryGetValue(spelling, out ImmutableArray<Unit> units) ? units[0].Dimension : null;

    /// <summary>A spelling of the dimension that differs only in capitals, or null.</summary>
    public static string? OtherCapitals(string spelling, Dimension dimension) =>
        BySpelling
            .Where(pair => string.Equals(pair.Key, spelling, StringComparison.OrdinalIgnoreCase)
                && pair.Value.Any(unit => unit.Dimension == dimension))
            .Select(pair => pair.Key)
            .Order(StringComparer.Ordinal)
            .LastOrDefault();

    /// <summary>One spelling for characters that look or mean the same: µ and μ, Ω and ohm, minus signs, spaces.</summary>
    public static string Plain(string text)
    {
        if (text.AsSpan().IndexOfAnyExceptInRange('!', '~') < 0)
            return text;
        return text.Replace('µ', 'u').Replace('μ', 'u').Replace("Ω", "ohm").Replace("\u2126", "ohm")
            .Replace('−', '-').Replace("√", "rt").Replace("²", "^2").Replace("℃", "degC")
            .Replace('º', '°').Replace("°", "deg")
            .Replace('\u00A0', ' ').Replace('\u202F', ' ').Replace('\u2009', ' ');
    }

    private static IEnumerable<(string Spelling, Unit Unit)> All() =>
    [
        .. Plain(Dimension.Ratio, ("%", -2), ("ppm", -6), ("ppb", -9)),
        .. Prefixed(Dimension.Resistance, ["ohm", "ohms", "R"]),
        .. Prefixed(Dimension.Conductance, ["S"]),
        .. Prefixed(Dimension.Capacitance, ["F"]),
        .. Prefixed(Dimension.Inductance, ["H"]),
        .. Prefixed(Dimension.Voltage, ["V"]),
        .. Prefixed(Dimension.Current, ["A"]),
        .. Prefixed(Dimension.Power, ["W"]),
        .. Prefixed(Dimension.Frequency, ["Hz"]),
        .. Prefixed(Dimension.Time, ["s"]),
        ("min", new(Dimension.Time, 0, 60)),
        ("degC", new(Dimension.Temperature, 0, 1, 273.15)),
        ("K", new(Dimension.Temperature, 0)),
        .. Prefixed(Dimension.TemperatureStep, ["K"]),
        ("degC", new(Dimension.TemperatureStep, 0)),
        .. Over(Dimension.PerKelvin, [("ppm", -6), ("%", -2), ("", 0), ("1", 0)], Kelvin),
        .. Over(Dimension.VoltagePerKelvin, With("V"), Kelvin),
        .. Over(Dimension.Slew, With("V"), [("s", 0), ("ms", 3), ("us", 6), ("ns", 9)]),
        .. Over(Dimension.VoltageNoise, With("V"), [("rtHz", 0)]),
        .. Over(Dimension.CurrentNoise, With("A"), [("rtHz", 0)]),
        .. Lengths(Dimension.Length),
        .. Lengths(Dimension.PanelWidth),
        ("HP", new(Dimension.PanelWidth, -5, 508)),
        .. Lengths(Dimension.PanelHeight),
        ("U", new(Dimension.PanelHeight, -5, 4445)),
        .. Over(Dimension.VoltagePerOctave, With("V"), [("oct", 0), ("octave", 0)]),
        .. Intervals(),
        .. Over(Dimension.CurrentPerSquareVolt, With("A"), [("V^2", 0), ("V2", 0)]),
        .. Plain(Dimension.RootVoltage, ("rtV", 0), ("V^0.5", 0)),
        .. Over(Dimension.ResistancePerLength, With("ohm"), Metre),
        .. Over(Dimension.CapacitancePerLength, With("F"), Metre),
        .. Over(Dimension.InductancePerLength, With("H"), Metre),
        .. Plain(Dimension.PerVolt, ("/V", 0), ("1/V", 0), ("%/V", -2)),
        .. Prefixed(Dimension.Charge, ["C"]),
        .. Plain(Dimension.BandGap, ("eV", 0)),
    ];

    private static IEnumerable<(string, Unit)> Lengths(Dimension dimension) =>
    [
        .. Plain(dimension, ("m", 0), ("cm", -2), ("mm", -3), ("um", -6)),
        ("in", new(dimension, -4, 254)),
        ("mil", new(dimension, -7, 254)),
    ];

    private static IEnumerable<(string, Unit)> Intervals() =>
        new[] { ("cent", 1), ("cents", 1), ("semitone", 100), ("semitones", 100), ("oct", 1200), ("octave", 1200), ("octaves", 1200) }
            .Select(pair => (pair.Item1, new Unit(Dimension.Interval, 0, pair.Item2)));

    private static IEnumerable<(string, Unit)> Plain(Dimension dimension, params (string Spelling, int Exponent)[] units) =>
        units.Select(unit => (unit.Spelling, new Unit(dimension, unit.Exponent)));

    private static IEnumerable<(string, int)> With(string unit) =>
        Prefixes.Select(prefix => (prefix.Letter + unit, prefix.Exponent));

    private static IEnumerable<(string, Unit)> Prefixed(Dimension dimension, string[] units) =>
        units.SelectMany(unit => With(unit).Select(pair => (pair.Item1, new Unit(dimension, pair.Item2))));

    private static IEnumerable<(string, Unit)> Over(
        Dimension dimension,
        IEnumerable<(string Spelling, int Exponent)> above,
        IReadOnlyCollection<(string Spelling, int Exponent)> below
    ) =>
        above.SelectMany(a => below.Select(b => ($"{a.Spelling}/{b.Spelling}", new Unit(dimension, a.Exponent + b.Exponent))));
}
