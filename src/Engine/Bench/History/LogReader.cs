using System.Collections.Immutable;
using Consort.Engine.Bench.Readings;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Consort.Engine.Bench.History;

/// <summary>Reads entries out of the tables.</summary>
internal sealed class LogReader(SqliteConnection connection)
{
    // The library fills these by name.
    private sealed class Row
    {
        public long Id { get; init; }
        public string Module { get; init; } = "";
        public string Serial { get; init; } = "";
        public string Time { get; init; } = "";
        public string? Occasion { get; init; }
        public double LawHertz { get; init; }
        public double LawVolts { get; init; }
        public double LawVoltsPerOctave { get; init; }
        public double ClockRatio { get; init; }
        public double ClockUncertainty { get; init; }
        public long ClockCalibrated { get; init; }
        public string Trimmer { get; init; } = "";
        public double? Turned { get; init; }
        public double? Position { get; init; }
        public string What { get; init; } = "";
        public string? Cause { get; init; }
        public long Mended { get; init; }
        public string Text { get; init; } = "";
        public string Origin { get; init; } = "";
        public double FromCents { get; init; }
        public double ToCents { get; init; }
        public double LeastCents { get; init; }
        public double? LeadHertz { get; init; }
        public double FlatCents { get; init; }
        public double FlatUncertainty { get; init; }
        public long FlatReached { get; init; }
        public double SharpCents { get; init; }
        public double SharpUncertainty { get; init; }
        public long SharpReached { get; init; }
        public UnitName Unit => new(Module, Serial);
        public DateTimeOffset At => LogTime.Read(Time) ?? DateTimeOffset.UnixEpoch;
    }

    private sealed class ReadingRow
    {
        public long Sitting { get; init; }
        public double Volts { get; init; }
        public double VoltsUncertainty { get; init; }
        public double Hertz { get; init; }
        public double Uncertainty { get; init; }
        public double? Kelvin { get; init; }
        public string Origin { get; init; } = "";
        public double? SignalToNoise { get; init; }
        public double? DriftCents { get; init; }
        public string? Shape { get; init; }
        public double? Duty { get; init; }
        public double? Distortion { get; init; }
        public double? VoltsPeakToPeak { get; init; }
        public string? Stands { get; init; }

        public KeptReading Kept =>
            new(Volts, VoltsUncertainty, Hertz, Uncertainty, Kelvin, Origin)
            {
                SignalToNoise = SignalToNoise, DriftCents = DriftCents, Shape = Shape, Duty = Duty, Distortion = Distortion, VoltsPeakToPeak = VoltsPeakToPeak,
                Stands = KeptReading.ReadStands(Stands) ?? ImmutableDictionary<string, TrimmerStand>.Empty,
            };
    }

    private const string ReadingWords =
        """
        SELECT sitting AS Sitting, volts AS Volts, volts_uncertainty AS VoltsUncertainty, hertz AS Hertz, uncertainty AS Uncertainty, kelvin AS Kelvin,
            origin AS Origin, signal_to_noise AS SignalToNoise, drift_cents AS DriftCents, shape AS Shape, duty AS Duty, distortion AS Distortion,
            volts_peak_to_peak AS VoltsPeakToPeak, stands AS Stands
        FROM reading
        """;

    private const string SittingColumns =
        """
        occasion AS Occasion, law_hertz AS LawHertz, law_volts AS LawVolts, law_volts_per_octave AS LawVoltsPerOctave,
        clock_ratio AS ClockRatio, clock_uncertainty AS ClockUncertainty, clock_calibrated AS ClockCalibrated
        """;

    private const string SyncColumns =
        """
        occasion AS Occasion, origin AS Origin, from_cents AS FromCents, to_cents AS ToCents, least_cents AS LeastCents, lead_hertz AS LeadHertz,
        coalesce(flat_cents, 0.0) AS FlatCents, coalesce(flat_uncertainty, 0.0) AS FlatUncertainty, coalesce(flat_reached, 0) AS FlatReached,
        coalesce(sharp_cents, 0.0) AS SharpCents, coalesce(sharp_uncertainty, 0.0) AS SharpUncertainty, coalesce(sharp_reached, 0) AS SharpReached
        """;

    /// <summary>In the order of time; those of one moment: readings, holds under sync, trims, faults, notes.</summary>
    public ImmutableArray<LogEntry> Read(UnitName? unit)
    {
        Row[] sittings = Rows("sitting", SittingColumns, unit);
        ILookup<long, KeptReading> readings = Readings(unit);
        IEnumerable<LogEntry> all =
        [
            .. sittings.Select(row => Sitting(row, readings[row.Id])),
            .. Rows("sync", SyncColumns, unit).Select(Sync),
            .. Rows("trim", "trimmer AS Trimmer, turned AS Turned, position AS Position", unit).Select(row => new TrimEntry(row.Unit, row.At, row.Trimmer, row.Turned, row.Position)),
            .. Rows("fault", "what AS What, cause AS Cause, mended AS Mended", unit).Select(row => new FaultEntry(row.Unit, row.At, row.What, row.Cause, row.Mended != 0)),
            .. Rows("note", "text AS Text", unit).Select(row => new NoteEntry(row.Unit, row.At, row.Text)),
        ];
        return [.. all.OrderBy(entry => entry.Time)];
    }

    private static SittingEntry Sitting(Row row, IEnumerable<KeptReading> readings) =>
        new(row.Unit, row.At, row.Occasion, new(row.LawHertz, row.LawVolts, row.LawVoltsPerOctave),
            new RecorderClock(row.ClockRatio, row.ClockUncertainty, row.ClockCalibrated != 0), [.. readings]);

    private static SyncEntry Sync(Row row) =>
        new(row.Unit, row.At, row.Occasion, row.Origin, row.FromCents, row.ToCents, row.LeastCents,
            row.LeadHertz is { } lead ? new(lead, new(row.FlatCents, row.FlatUncertainty, row.FlatReached != 0), new(row.SharpCents, row.SharpUncertainty, row.SharpReached != 0)) : null);

    private Row[] Rows(string table, string columns, UnitName? unit) =>
        [
            .. connection.Query<Row>(
                $"SELECT {table}.id AS Id, module AS Module, serial AS Serial, time AS Time, {columns} FROM {table} JOIN unit ON unit.id = {table}.unit"
                    + $"{(unit is null ? "" : " WHERE module = @Module AND serial = @Serial")} ORDER BY time, {table}.id",
                new { unit?.Module, unit?.Serial }
            ),
        ];

    private ILookup<long, KeptReading> Readings(UnitName? unit) =>
        connection
            .Query<ReadingRow>(
                ReadingWords
                    + (unit is null ? "" : " WHERE sitting IN (SELECT sitting.id FROM sitting JOIN unit ON unit.id = unit WHERE module = @Module AND serial = @Serial)")
                    + " ORDER BY id",
                new { unit?.Module, unit?.Serial }
            )
            .ToLookup(row => row.Sitting, row => row.Kept);
}
