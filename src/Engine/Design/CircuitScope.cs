using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>What the parts of one circuit share while it is read.</summary>
internal sealed class CircuitScope(PartsLibrary library, ErrorList errors)
{
    /// <summary>Where models are found.</summary>
    public PartsLibrary Library => library;

    /// <summary>Where mistakes go.</summary>
    public ErrorList Errors => errors;

    /// <summary>Every terminal's net.</summary>
    public List<NetUse> Uses { get; } = [];

    /// <summary>Every net that a formula reads.</summary>
    public List<NetUse> FormulaUses { get; } = [];

    /// <summary>Matched pairs by name.</summary>
    public Dictionary<string, PairInUse> Pairs { get; } = [];

    /// <summary>Names of matched pairs with mistakes of their own: their transistors are not blamed.</summary>
    public HashSet<string> BrokenPairs { get; } = [];
}

/// <summary>A matched pair while its transistors are looked for.</summary>
internal sealed class PairInUse(Part part, LibraryEntry? model, ErrorList errors)
{
    /// <summary>The pair's designator.</summary>
    public string Name => part.Name;

    /// <summary>The library model of its transistors; null when ideal.</summary>
    public LibraryEntry? Model => model;

    /// <summary>That model's name.</summary>
    public string ModelName => part.Texts["model"];

    /// <summary>Offset, gradient and their limits.</summary>
    public ImmutableDictionary<string, double> Numbers => part.Numbers;

    /// <summary>How pairs of its kind lie between those limits.</summary>
    public string Spread => part.Texts["spread"];

    /// <summary>Transistors so far.</summary>
    public int Count { get; private set; }

    private PartKind? first;

    /// <summary>The next transistor names this pair.</summary>
    public void Join(PartReader transistor, string name, PartKind kind, YamlText at)
    {
        if (++Count > 2)
            errors.Add(ErrorCodes.PairMembers, at.At, $"{name} is transistor {Count} of {Name}", "a pair has two: name another pair");
        string? other = model?.Polarity ?? first?.Word;
        if (other is not null && other != kind.Word)
            errors.Add(ErrorCodes.PairPolarity, at.At, $"{name} is {kind.Word}, and {Name} holds {other} transistors", $"write '{other}: {Name}'");
        first ??= kind;
        transistor.BecomeMember(this, Math.Min(Count, 2));
    }

    /// <summary>Reports a pair with fewer than two transistors.</summary>
    public void CheckComplete()
    {
        if (Count < 2)
            errors.Add(ErrorCodes.PairMembers, part.At, $"{Name} has {(Count == 0 ? "no transistor" : "one transistor")}, and a pair has two",
                $"write '{model?.Polarity ?? "npn"}: {Name}' in both transistors");
    }
}
