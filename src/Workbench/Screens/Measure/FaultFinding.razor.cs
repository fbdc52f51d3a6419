using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Faults;
using Consort.Engine.Pitch;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Measure;

/// <summary>From what meters show on a unit to what is likely wrong with it.</summary>
public sealed partial class FaultFinding
{
    private const double Worth = 0.005;

    private ImmutableArray<string> mistakes = [];
    private UnitDiagnosis? found;
    private (long Revision, string Member, FaultBook Book)? known;

    /// <summary>The unit; null while its name is not one.</summary>
    [Parameter]
    public UnitPlace? Place { get; set; }

    /// <summary>Notes that are held.</summary>
    [Parameter]
    public ImmutableArray<UnitReading> Held { get; set; } = [];

    private string Table { get; set; } = "what,place,reading\n";

    private void FillIn()
    {
        if (State.Design is { } design && Place is { } place)
            Table = UnitDiagnosis.Blank(design.Voice, design.Stock, place);
    }

    private void AddHeld() =>
        Table = Table.TrimEnd() + "\n" + string.Concat(Held.Select(reading => string.Create(CultureInfo.InvariantCulture, $"frequency,{reading.Control.Value:0.##} V,{reading.Frequency.Value:0.000} Hz\n")));

    private async Task Weigh()
    {
        if (State.Design is not { } design || Place is not { } place)
            return;
        (mistakes, found) = ([], null);
        FaultBook? book = known is { } kept && kept.Revision == design.Revision && kept.Member == place.Member.Name ? kept.Book : null;
        SourceText table = SourceText.Of(Table, "figures");
        bool isDone = await Run("solving faults", async (progress, cancel) =>
        {
            (UnitDiagnosis? answer, ImmutableArray<InputError> errors, Unproved? failure) = await Task.Run(() => UnitDiagnosis.Of(design.Voice, design.Stock, place, table, book, Environment.ProcessorCount, progress, cancel), cancel);
            mistakes = failure is null ? [.. errors.Select(error => $"line {error.At.Line}: {error.What}. Mend: {error.Mend}")] : [$"{failure.What}. Mend: {failure.Mend}"];
            found = answer;
            if (answer is not null)
                known = (design.Revision, place.Member.Name, answer.Book);
        });
        if (!isDone)
            mistakes = ["cancelled"];
    }

    private static IEnumerable<Explanation> Likely(UnitDiagnosis unit) => unit.Diagnosis.Ranked.Take(5).Where((one, i) => i == 0 || one.Weight >= Worth);

    private static string Foretold(UnitDiagnosis unit, FigureReading reading)
    {
        UnitFigure figure = unit.Book.Figures[reading.Figure];
        return $"{figure.Word} of {figure.Place} {Figures.Si(figure.Plain(reading.Value), figure.Unit)}";
    }
}
