using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Faults;

/// <summary>What kind of thing went wrong.</summary>
public enum FaultKind
{
    /// <summary>Nothing joins two terminals: a cold joint, a lifted pad, a broken lead.</summary>
    Open,

    /// <summary>Terminals joined that should not be: a solder bridge, a part broken down.</summary>
    Short,

    /// <summary>A value wrong by a factor of ten.</summary>
    Decade,

    /// <summary>A value from the next drawer: the neighbour in E12.</summary>
    Neighbour,

    /// <summary>A digit or band read as another.</summary>
    Misread,

    /// <summary>Two parts in each other's place.</summary>
    Swapped,

    /// <summary>A part the wrong way round.</summary>
    Turned,

    /// <summary>A part that does nothing any more, or whose output sticks.</summary>
    Dead,

    /// <summary>A transistor with a tenth of its gain.</summary>
    Weak,

    /// <summary>A ribbon's wire missing, or its plug mirrored.</summary>
    Ribbon,
}

/// <summary>One way in which a unit may be unlike its design.</summary>
/// <param name="Kind">What kind.</param>
/// <param name="Part">The part, or both parts.</param>
/// <param name="Words">In words: <c>R8 is open</c>.</param>
public sealed record Fault(FaultKind Kind, string Part, string Words)
{
    /// <summary>The module's parts with the fault in them.</summary>
    internal Func<ImmutableArray<Part>, ImmutableArray<Part>> Apply { get; init; } = parts => parts;

    /// <summary>The voice with the fault in one member.</summary>
    internal Voice In(Voice voice, string member) =>
        voice with { Members = [.. voice.Members.Select(one => one.Name == member ? one with { Module = one.Module with { Circuit = Apply(one.Module.Circuit) } } : one)] };
}
