using Dapper;
using Microsoft.Data.Sqlite;

namespace Consort.Engine.Bench.History;

/// <summary>The tables of a history, made step by step: a file of any older version is brought up to this one by the steps
/// that it lacks. A step that was given out is never changed.</summary>
internal static class LogSchema
{
    /// <summary>Marks the file as ours among all SQLite files ("Cnst"); kept in its header.</summary>
    public const long Application = 0x436e7374;

    private static readonly string[] Steps =
    [
        """
        CREATE TABLE unit (
            id INTEGER PRIMARY KEY, module TEXT NOT NULL, serial TEXT NOT NULL, UNIQUE (module, serial)
        ) STRICT;
        CREATE TABLE sitting (
            id INTEGER PRIMARY KEY, unit INTEGER NOT NULL REFERENCES unit (id), time TEXT NOT NULL, occasion TEXT,
            law_hertz REAL NOT NULL, law_volts REAL NOT NULL, law_volts_per_octave REAL NOT NULL,
            clock_ratio REAL NOT NULL, clock_uncertainty REAL NOT NULL, clock_calibrated INTEGER NOT NULL
        ) STRICT;
        CREATE TABLE reading (
            id INTEGER PRIMARY KEY, sitting INTEGER NOT NULL REFERENCES sitting (id),
            volts REAL NOT NULL, volts_uncertainty REAL NOT NULL, hertz REAL NOT NULL, uncertainty REAL NOT NULL, kelvin REAL, origin TEXT NOT NULL
        ) STRICT;
        CREATE INDEX reading_of_sitting ON reading (sitting);
        """,
        """
        CREATE TABLE trim (
            id INTEGER PRIMARY KEY, unit INTEGER NOT NULL REFERENCES unit (id), time TEXT NOT NULL, trimmer TEXT NOT NULL, turned REAL, position REAL
        ) STRICT;
        CREATE TABLE fault (
            id INTEGER PRIMARY KEY, unit INTEGER NOT NULL REFERENCES unit (id), time TEXT NOT NULL, what TEXT NOT NULL, cause TEXT, mended INTEGER NOT NULL
        ) STRICT;
        CREATE TABLE note (
            id INTEGER PRIMARY KEY, unit INTEGER NOT NULL REFERENCES unit (id), time TEXT NOT NULL, text TEXT NOT NULL
        ) STRICT;
        """,
        """
        ALTER TABLE reading ADD COLUMN signal_to_noise REAL;
        ALTER TABLE reading ADD COLUMN drift_cents REAL;
        ALTER TABLE reading ADD COLUMN shape TEXT;
        ALTER TABLE reading ADD COLUMN duty REAL;
        ALTER TABLE reading ADD COLUMN distortion REAL;
        ALTER TABLE reading ADD COLUMN volts_peak_to_peak REAL;
        """,
        """
        ALTER TABLE reading ADD COLUMN stands TEXT;
        """,
        """
        CREATE TABLE sync (
            id INTEGER PRIMARY KEY, unit INTEGER NOT NULL REFERENCES unit (id), time TEXT NOT NULL, occasion TEXT, origin TEXT NOT NULL,
            from_cents REAL NOT NULL, to_cents REAL NOT NULL, least_cents REAL NOT NULL, lead_hertz REAL,
            flat_cents REAL, flat_uncertainty REAL, flat_reached INTEGER, sharp_cents REAL, sharp_uncertainty REAL, sharp_reached INTEGER
        ) STRICT;
        """,
    ];

    /// <summary>The version that this program writes: how many steps there are.</summary>
    public static int Version => Steps.Length;

    /// <summary>The version of a file.</summary>
    public static long VersionOf(SqliteConnection connection) => connection.ExecuteScalar<long>("PRAGMA user_version");

    /// <summary>Makes the steps that a file lacks, all of them or none; two programs may come at once.</summary>
    /// <param name="to">Up to which version; the tests make old ones.</param>
    public static void Raise(SqliteConnection connection, int to)
    {
        if (VersionOf(connection) >= to)
            return;
        using SqliteTransaction transaction = connection.BeginTransaction(); // waits for another that raises it too
        for (int step = (int)VersionOf(connection); step < to; step++)
            connection.Execute(Steps[step], transaction: transaction);
        if (VersionOf(connection) < to)
            connection.Execute($"PRAGMA application_id = {Application}; PRAGMA user_version = {to}", transaction: transaction);
        transaction.Commit();
    }
}
