using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Design;
using Consort.Engine.Faults;
using Consort.Engine.Pitch;
using Consort.Workbench.Session;

namespace Consort.Workbench.Screens.Measure;

/// <summary>What figures say of a unit, or what is wrong with their table.</summary>
/// <param name="Unit">Null when there are mistakes.</param>
/// <param name="Mistakes">In words.</param>
public sealed record WeighedFigures(UnitDiagnosis? Unit, ImmutableArray<string> Mistakes);

/// <summary>What is likely wrong with the unit at hand, for one tab. The book of a member's faults is written once and kept: the
/// next figures are weighed at once, also after another screen.</summary>
/// <param name="session">Whose design it is of.</param>
public sealed class FaultWork(VoiceSession session) : IDisposable
{
    private LongWork<(UnitPlace Place, string Table), WeighedFigures>? work;
    private ((long Revision, string Member) Of, FaultBook Book)? kept;

    /// <summary>The table as it was left.</summary>
    public string Table { get; set; } = "what,place,reading\n";

    /// <summary>As <c>diagnose</c> computes it.</summary>
    public LongWork<(UnitPlace Place, string Table), WeighedFigures> Work => work ??= new(session, Run);

    private (WeighedFigures? Result, Unproved? Failure) Run(ReadDesign design, (UnitPlace Place, string Table) asked, IProgress<(string Stage, double Done)> progress, CancellationToken cancel)
    {
        (long, string) of = (design.Revision, asked.Place.Member.Name);
        FaultBook? book = kept is { } known && known.Of == of ? known.Book : null;
        SourceText table = SourceText.Of(asked.Table, "figures");
        (UnitDiagnosis? unit, ImmutableArray<InputError> errors, Unproved? failure) = UnitDiagnosis.Of(design.Voice, design.Stock, asked.Place, table, book, Environment.ProcessorCount, progress, cancel);
        if (unit is not null)
            kept = (of, unit.Book);
        return failure is null ? (new(unit, [.. errors.Select(error => $"line {error.At.Line}: {error.What}. Mend: {error.Mend}")]), null) : (null, failure);
    }

    /// <inheritdoc/>
    public void Dispose() => work?.Dispose();
}
