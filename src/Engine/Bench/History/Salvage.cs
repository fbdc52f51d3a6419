using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Bench.Sync;
using Consort.Engine.Design;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Consort.Engine.Bench.History;

/// <summary>
/// Saves what can be read of a damaged history into a new one. It works on a copy: the damaged file stays as it is. Rows are
/// asked for one by one, so that a broken page takes only its own; a broken first page, which holds the tables' names, is
/// replaced by that of an empty history.
/// </summary>
/// <param name="Kept">Entries in the new history.</param>
/// <param name="Readings">Readings among them.</param>
/// <param name="Unreadable">Rows that broken pages hold, where their number is known; readings whose sitting is lost count too.</param>
public sealed record Salvage(int Kept, int Readings, int Unreadable)
{
    private const int PageSize = 4096; // SQLite's own choice since 3.12
    private const int SmallestRow = 16; // bytes: bounds how many rows a file may hold

    /// <summary>Saves.</summary>
    /// <param name="damaged">The damaged file.</param>
    /// <param name="saved">A file that is not there yet.</param>
    public static (Salvage? Salvage, InputError? Error) Run(string damaged, string saved)
    {
        if (File.Exists(saved))
            return (null, LogFaults.Exists(saved.Replace('\\', '/')));
        string copy = $"{Path.GetFullPath(saved)}.{Environment.ProcessId}.part";
        try
        {
            Copy(damaged, copy);
            (ImmutableArray<LogEntry> entries, int lost) = Read(copy);
            (UnitLog? log, InputError? error) = UnitLog.Open(saved);
            using (log)
                error ??= log!.Record(entries);
            return error is null ? (new(entries.Length, entries.OfType<SittingEntry>().Sum(sitting => sitting.Readings.Length), lost), null) : (null, error);
        }
        catch (SqliteException e)
        {
            return (null, LogFaults.Of(e, damaged.Replace('\\', '/')));
        }
        finally
        {
            foreach (string ending in (string[])["", "-wal", "-shm"])
                File.Delete(copy + ending);
        }
    }

    // What was written last may still stand in the log beside the file.
    private static void Copy(string from, string to)
    {
        File.Copy(from, to);
        if (File.Exists(from + "-wal"))
            File.Copy(from + "-wal", to + "-wal");
    }

    private static (ImmutableArray<LogEntry> Entries, int Lost) Read(string copy)
    {
        if (!HasTables(copy))
            Graft(copy);
        using SqliteConnection connection = new(UnitLog.Words(copy, SqliteOpenMode.ReadWrite));
        connection.Open();
        return new SalvagedRows(connection, (int)Math.Min(2_000_000, new FileInfo(copy).Length / SmallestRow)).Entries();
    }

    private static bool HasTables(string copy)
    {
        try
        {
            using SqliteConnection connection = new(UnitLog.Words(copy, SqliteOpenMode.ReadWrite));
            connection.Open();
            return connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema WHERE name IN ('unit', 'sitting', 'reading')") == 3;
        }
        catch (SqliteException)
        {
            return false;
        }
    }

    // The first page of an empty history, told how many pages follow (file format: www.sqlite.org/fileformat2.html, 1.3).
    private static void Graft(string copy)
    {
        string empty = $"{copy}.empty";
        try
        {
            (UnitLog? log, _) = UnitLog.Open(empty);
            log?.Dispose();
            byte[] page = File.ReadAllBytes(empty)[..PageSize];
            page[18] = page[19] = 1; // no write-ahead log: what stood in one goes with the page that named it
            using FileStream file = File.Open(copy, FileMode.Open, FileAccess.ReadWrite);
            System.Buffers.Binary.BinaryPrimitives.WriteUInt32BigEndian(page.AsSpan(28), (uint)(file.Length / PageSize));
            file.Write(page);
        }
        finally
        {
            File.Delete(empty);
        }
        File.Delete(copy + "-wal");
    }
}

/// <summary>Rows of a damaged history, asked for one by one.</summary>
internal sealed class SalvagedRows(SqliteConnection connection, int bound)
{
    private int lost;

    /// <summary>What can be put together of them; a unit whose row is gone is called unknown.</summary>
    public (ImmutableArray<LogEntry> Entries, int Lost) Entries()
    {
        Dictionary<long, UnitName> units = Rows("unit").ToDictionary(Id, row => new UnitName(Text(row, "module") ?? "unknown", Text(row, "serial") ?? $"unit-{Id(row)}"));
        List<IDictionary<string, object?>> sittings = Rows("sitting"), readings = Rows("reading");
        ILookup<long, KeptReading> kept = readings.ToLookup(row => Whole(row, "sitting"), Reading);
        HashSet<long> known = [.. sittings.Select(Id)];
        lost += readings.Count(row => !known.Contains(Whole(row, "sitting")));
        UnitName Unit(IDictionary<string, object?> row) => units.GetValueOrDefault(Whole(row, "unit"), new("unknown", $"unit-{Whole(row, "unit")}"));
        IEnumerable<LogEntry> all =
        [
            .. sittings.Select(row => new SittingEntry(Unit(row), Time(row), Text(row, "occasion"),
                new(Number(row, "law_hertz") ?? 1, Number(row, "law_volts") ?? 0, Number(row, "law_volts_per_octave") ?? 1),
                new RecorderClock(Number(row, "clock_ratio") ?? 1, Number(row, "clock_uncertainty") ?? 0, Whole(row, "clock_calibrated") != 0), [.. kept[Id(row)]])),
            .. Rows("sync").Select(row => new SyncEntry(Unit(row), Time(row), Text(row, "occasion"), Text(row, "origin") ?? "", Number(row, "from_cents") ?? 0, Number(row, "to_cents") ?? 0,
                Number(row, "least_cents") ?? 0, Number(row, "lead_hertz") is { } lead ? new(lead, Edge(row, "flat"), Edge(row, "sharp")) : null)),
            .. Rows("trim").Select(row => new TrimEntry(Unit(row), Time(row), Text(row, "trimmer") ?? "", Number(row, "turned"), Number(row, "position"))),
            .. Rows("fault").Select(row => new FaultEntry(Unit(row), Time(row), Text(row, "what") ?? "", Text(row, "cause"), Whole(row, "mended") != 0)),
            .. Rows("note").Select(row => new NoteEntry(Unit(row), Time(row), Text(row, "text") ?? "")),
        ];
        return ([.. all.OrderBy(entry => entry.Time)], lost);
    }

    private List<IDictionary<string, object?>> Rows(string table)
    {
        int last = Last(table);
        List<IDictionary<string, object?>> rows = [];
        for (int id = 1; id <= last; id++)
            if (One(table, id) is { } row)
                rows.Add(row);
        return rows;
    }

    // The largest number stands on the last page: where that is gone, as many as the file could hold are asked for.
    private int Last(string table)
    {
        try
        {
            return connection.ExecuteScalar<int?>($"SELECT max(id) FROM {table}") ?? 0;
        }
        catch (SqliteException e)
        {
            return e.Message.Contains("no such table", StringComparison.Ordinal) ? 0 : bound;
        }
    }

    private IDictionary<string, object?>? One(string table, int id)
    {
        try
        {
            return connection.QueryFirstOrDefault($"SELECT * FROM {table} WHERE id = @id", new { id }) as IDictionary<string, object?>;
        }
        catch (Exception e) when (e is SqliteException or FormatException or InvalidCastException)
        {
            lost++;
            return null;
        }
    }

    private static KeptReading Reading(IDictionary<string, object?> row) =>
        new(Number(row, "volts") ?? 0, Number(row, "volts_uncertainty") ?? 0, Number(row, "hertz") ?? 0, Number(row, "uncertainty") ?? 0, Number(row, "kelvin"), Text(row, "origin") ?? "")
        {
            SignalToNoise = Number(row, "signal_to_noise"), DriftCents = Number(row, "drift_cents"), Shape = Text(row, "shape"), Duty = Number(row, "duty"),
            Distortion = Number(row, "distortion"), VoltsPeakToPeak = Number(row, "volts_peak_to_peak"),
            Stands = KeptReading.ReadStands(Text(row, "stands")) ?? ImmutableDictionary<string, TrimmerStand>.Empty,
        };

    private static SyncEdge Edge(IDictionary<string, object?> row, string end) =>
        new(Number(row, $"{end}_cents") ?? 0, Number(row, $"{end}_uncertainty") ?? 0, Whole(row, $"{end}_reached") != 0);

    private static long Id(IDictionary<string, object?> row) => Whole(row, "id");

    private static long Whole(IDictionary<string, object?> row, string name) => row.TryGetValue(name, out object? value) && value is long whole ? whole : 0;

    private static double? Number(IDictionary<string, object?> row, string name) =>
        row.TryGetValue(name, out object? value) && value is not null ? Convert.ToDouble(value, CultureInfo.InvariantCulture) : null;

    private static string? Text(IDictionary<string, object?> row, string name) => row.TryGetValue(name, out object? value) ? value as string : null;

    private static DateTimeOffset Time(IDictionary<string, object?> row) => LogTime.Read(Text(row, "time") ?? "") ?? DateTimeOffset.UnixEpoch;
}
