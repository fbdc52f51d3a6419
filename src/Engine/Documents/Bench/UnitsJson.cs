using System.Collections.Immutable;
using Consort.Engine.Bench.History;

namespace Consort.Engine.Documents.Bench;

/// <summary>The list of a voice's units as JSON, in the shape that docs/json.md describes.</summary>
public static class UnitsJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(ImmutableArray<UnitSummary> units) =>
        JsonText.Write(json => json.Text("shape", "consort units").Number("version", Version).List("units", units, unit => json
            .Text("module", unit.Unit.Module).Text("serial", unit.Unit.Serial)
            .Text("firstSeen", LogTime.Text(unit.First)).Text("lastSeen", LogTime.Text(unit.Last))
            .Number("sittingCount", unit.Sittings).Number("trimCount", unit.Trims).Number("openFaults", unit.OpenFaults).Number("worstCents", unit.Worst)));
}
