using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Documents;
using Consort.Engine.Faults;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Measure;

/// <summary>From what meters show on a unit to what is likely wrong with it.</summary>
public sealed partial class FaultFinding
{
    private const double Worth = 0.005;

    [Inject]
    private FaultWork Faults { get; set; } = null!;

    /// <summary>The unit; null while its name is not one.</summary>
    [Parameter]
    public UnitPlace? Place { get; set; }

    /// <summary>Notes that are held.</summary>
    [Parameter]
    public ImmutableArray<UnitReading> Held { get; set; } = [];

    private LongWorkState<(UnitPlace Place, string Table), WeighedFigures>? Work { get; set; }

    /// <inheritdoc/>
    protected override void Look()
    {
        base.Look();
        Work = Faults.Work.State;
    }

    private IEnumerable<string> Mistakes => Work?.Failure is { } failure ? [$"{failure.What}. Mend: {failure.Mend}"] : Work?.Result?.Mistakes ?? [];

    private UnitDiagnosis? Found => Work?.Result?.Unit is { } unit && unit.Place.Unit == Place?.Unit ? unit : null;

    // What was found of another table or another design stays, marked.
    private bool IsOld => Work is { } work && (work.Revision != State.Revision || work.Asked.Table != Faults.Table);

    private void FillIn()
    {
        if (State.Design is { } design && Place is { } place)
            Faults.Table = UnitDiagnosis.Blank(design.Voice, design.Stock, place);
    }

    private void AddHeld() =>
        Faults.Table = Faults.Table.TrimEnd() + "\n" + string.Concat(Held.Select(reading => string.Create(CultureInfo.InvariantCulture, $"frequency,{reading.Control.Value:0.##} V,{reading.Frequency.Value:0.000} Hz\n")));

    private void Weigh()
    {
        if (Place is { } place)
            Faults.Work.Ask((place, Faults.Table));
    }

    private static IEnumerable<Explanation> Likely(UnitDiagnosis unit) => unit.Diagnosis.Ranked.Take(5).Where((one, i) => i == 0 || one.Weight >= Worth);

    private static string Foretold(UnitDiagnosis unit, FigureReading reading)
    {
        UnitFigure figure = unit.Book.Figures[reading.Figure];
        return $"{figure.Word} of {figure.Place} {Figures.Si(figure.Plain(reading.Value), figure.Unit)}";
    }
}
