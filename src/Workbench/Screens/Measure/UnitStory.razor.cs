using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.History;
using Consort.Engine.Design;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Measure;

/// <summary>What the history keeps of the unit at hand, the newest first.</summary>
public sealed partial class UnitStory
{
    private const int Most = 12;

    private (UnitName? Unit, int Recorded)? read;

    /// <summary>The unit; null while its name is not one.</summary>
    [Parameter]
    public UnitPlace? Place { get; set; }

    /// <summary>How often something was recorded here: the history is read again when it grows.</summary>
    [Parameter]
    public int Recorded { get; set; }

    private ImmutableArray<LogEntry> Entries { get; set; } = [];

    private UnitDrift? Drift { get; set; }

    private string? Fault { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        if (read == (Place?.Unit, Recorded))
            return;
        read = (Place?.Unit, Recorded);
        (Entries, Drift, Fault) = ([], null, null);
        string file = UnitLog.In(Session.Folder);
        if (Place is not { } place || !File.Exists(file))
            return;
        (UnitLog? log, InputError? error) = UnitLog.Open(file);
        using (log)
            if (error is null)
                (Entries, error) = log!.Entries(place.Unit);
        Fault = error is null ? null : $"{error.What}. {error.Mend}";
        Drift = UnitDrift.Of(Entries);
    }
}
