using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>A voice as it was read, with the places that messages about its wiring point at.</summary>
/// <param name="Voice">What could be read of it.</param>
/// <param name="CordsAt">Where the two jacks of each cord stand.</param>
/// <param name="RibbonsAt">Where the headers of each ribbon stand.</param>
/// <param name="RailsAt">Where each rail's name stands.</param>
/// <param name="SupplyAt">Where the supply stands.</param>
/// <param name="IsWhole">False when something could not be read: what is missing then says nothing.</param>
internal sealed record ReadVoice(
    Voice Voice,
    ImmutableArray<CordAt> CordsAt,
    ImmutableArray<RibbonAt> RibbonsAt,
    ImmutableDictionary<string, SourceSpan> RailsAt,
    SourceSpan SupplyAt,
    bool IsWhole
);

/// <summary>Where the two jacks of a cord stand.</summary>
internal readonly record struct CordAt(SourceSpan From, SourceSpan To);

/// <summary>Where the headers of a ribbon stand.</summary>
internal readonly record struct RibbonAt(SourceSpan From, ImmutableArray<SourceSpan> To);
