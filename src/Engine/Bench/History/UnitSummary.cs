using System.Collections.Immutable;

namespace Consort.Engine.Bench.History;

/// <summary>A unit in a line.</summary>
/// <param name="Unit">Which.</param>
/// <param name="First">Its first entry.</param>
/// <param name="Last">Its last one.</param>
/// <param name="Sittings">How often it was read.</param>
/// <param name="Trims">How often a trimmer was turned.</param>
/// <param name="OpenFaults">Faults less those that were mended.</param>
/// <param name="Worst">Largest error of the last sitting by size, cents; null when it was never read.</param>
public sealed record UnitSummary(UnitName Unit, DateTimeOffset First, DateTimeOffset Last, int Sittings, int Trims, int OpenFaults, double? Worst)
{
    /// <summary>Of all units of a log, by name.</summary>
    public static ImmutableArray<UnitSummary> All(IEnumerable<LogEntry> entries) =>
        [
            .. entries.GroupBy(entry => entry.Unit)
                .OrderBy(unit => unit.Key.Module, StringComparer.Ordinal).ThenBy(unit => unit.Key.Serial, StringComparer.Ordinal)
                .Select(unit => Of(unit.Key, [.. unit.OrderBy(entry => entry.Time)])),
        ];

    private static UnitSummary Of(UnitName unit, LogEntry[] entries)
    {
        SittingEntry? last = entries.OfType<SittingEntry>().LastOrDefault(sitting => !sitting.Readings.IsEmpty);
        int open = entries.OfType<FaultEntry>().Aggregate(0, (count, fault) => Math.Max(0, fault.Mended ? count - 1 : count + 1));
        return new(unit, entries[0].Time, entries[^1].Time, entries.OfType<SittingEntry>().Count(), entries.OfType<TrimEntry>().Count(), open,
            last?.Readings.Max(reading => Math.Abs(last.Cents(reading))));
    }
}
