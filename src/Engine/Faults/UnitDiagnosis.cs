using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench;
using Consort.Engine.Design;
using Consort.Engine.Expected;
using Consort.Engine.Pitch;

namespace Consort.Engine.Faults;

/// <summary>A unit with what its readings say of it.</summary>
/// <param name="Place">The unit.</param>
/// <param name="Book">What faults would do.</param>
/// <param name="Readings">What was read.</param>
/// <param name="Diagnosis">What that says.</param>
public sealed record UnitDiagnosis(UnitPlace Place, FaultBook Book, ImmutableArray<FigureReading> Readings, Diagnosis Diagnosis)
{
    /// <summary>The whole way from a table's file to explanations.</summary>
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
        return SourceText.Read(file, file.Replace('\\', '/'), errors) is { } source ? Of(voice, stock, place, source, null, threads, progress, cancel) : (null, errors.InOrder(), null);
    }

    /// <summary>The same from a table's text.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="stock">Its shelf.</param>
    /// <param name="place">The unit.</param>
    /// <param name="source">The table.</param>
    /// <param name="known">The book of that module, when it was written before; null to write it.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    /// <param name="progress">Told the stage and the share that is done.</param>
    /// <param name="cancel">Ends it.</param>
    public static (UnitDiagnosis? Found, ImmutableArray<InputError> Errors, Unproved? Failure) Of(Voice voice, Stock stock, UnitPlace place, SourceText source, FaultBook? known, int threads, IProgress<(string Stage, double Done)>? progress = null, CancellationToken cancel = default)
    {
        ErrorList errors = new();
        List<FigureReading> readings = FigureTable.Read(source, known?.Figures ?? Reader(voice, stock, place).Figures, errors);
        if (errors.Mistakes > 0)
            return (null, errors.InOrder(), null);
        FaultBook? book = known ?? FaultBook.Write(voice, place.Member, stock, threads, done => progress?.Report(("solving faults", done)), cancel);
        return book is null
            ? (null, [], new("the sound circuit has no answer", "see what 'consort prove' says of the voice"))
            : (new(place, book, [.. readings], new FaultFinder(book, threads, cancel).Find(readings)), errors.InOrder(), null);
    }

    /// <summary>A table to be filled in at the bench: frequencies, currents, and what moves or stands at the test places of the building
    /// guide. Rows that stay empty are not read.</summary>
    public static string Blank(Voice voice, Stock stock, UnitPlace place)
    {
        HashSet<string> places = [.. TestPlaces.Of(place.Member.Module).Select(test => test.Net)];
        FigureReader reader = Reader(voice, stock, place);
        IEnumerable<UnitFigure> rows = reader.Figures.Where(figure => figure.Kind is FigureKind.Pitch or FigureKind.Current || (figure.Kind != FigureKind.Swing && places.Contains(figure.Place)));
        return string.Create(CultureInfo.InvariantCulture, $"# Voltages and currents at {reader.Notes[0]:0.##} V on the pitch input; knobs and trimmers where the design has them.\nwhat,place,reading\n") + string.Concat(rows.OrderByDescending(figure => figure.Kind).Select(figure => $"{figure.Word},{figure.Place},\n"));
    }

    private static FigureReader Reader(Voice voice, Stock stock, UnitPlace place) => new(Fit.UnitAlone.Of(voice, place.Member), place.Member, stock);
}
