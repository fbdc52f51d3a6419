using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Faults;

/// <summary>A unit with what its readings say of it.</summary>
/// <param name="Place">The unit.</param>
/// <param name="Book">What faults would do.</param>
/// <param name="Readings">What was read.</param>
/// <param name="Diagnosis">What that says.</param>
public sealed record UnitDiagnosis(UnitPlace Place, FaultBook Book, ImmutableArray<FigureReading> Readings, Diagnosis Diagnosis)
{
    /// <summary>The whole way from a table to explanations.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="stock">Its shelf.</param>
    /// <param name="place">The unit.</param>
    /// <param name="file">The table.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="progress">Told the stage and the share that is done.</param>
    /// <param name="cancel">Ends it.</param>
    public static (UnitDiagnosis? Found, ImmutableArray<InputError> Errors, Unproved? Failure) Of(Voice voice, Stock stock, UnitPlace place, string file, int threads, IProgress<(string Stage, double Done)>? progress = null, CancellationToken cancel = default)
    {
        ErrorList errors = new();
        FigureReader reader = new(Fit.UnitAlone.Of(voice, place.Member), place.Member, stock);
        List<FigureReading> readings = SourceText.Read(file, file.Replace('\\', '/'), errors) is { } source ? FigureTable.Read(source, reader.Figures, errors) : [];
        if (errors.Mistakes > 0)
            return (null, errors.InOrder(), null);
        FaultBook? book = FaultBook.Write(voice, place.Member, stock, threads, done => progress?.Report(("solving faults", done)), cancel);
        return book is null
            ? (null, [], new("the sound circuit has no answer", "see what 'consort prove' says of the voice"))
            : (new(place, book, [.. readings], new FaultFinder(book, threads, cancel).Find(readings)), errors.InOrder(), null);
    }
}
