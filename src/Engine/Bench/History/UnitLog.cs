using System.Collections.Immutable;
using Consort.Engine.Design;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Consort.Engine.Bench.History;

/// <summary>
/// The history of a voice's units: an SQLite file beside the voice. What <see cref="Record"/> has answered for stays, whatever
/// becomes of the program; several programs may read and write at once.
/// </summary>
public sealed class UnitLog : IDisposable
{
    /// <summary>Its name in the voice's folder.</summary>
    public const string FileName = "history.db";

    private const int Patience = 20; // seconds that another program may take to write

    private readonly SqliteConnection connection;
    private readonly string name;

    private UnitLog(SqliteConnection connection, string name) => (this.connection, this.name) = (connection, name);

    /// <summary>The history of a voice's folder.</summary>
    public static string In(string folder) => Path.Combine(folder, FileName);

    /// <summary>Opens a history; makes it when it is not there, and brings an older one up to date.</summary>
    /// <returns>The log, or what is wrong with the file and how to mend it.</returns>
    public static (UnitLog? Log, InputError? Error) Open(string file)
    {
        SqliteConnection connection = new(Words(file, SqliteOpenMode.ReadWriteCreate));
        string name = file.Replace('\\', '/');
        InputError? error;
        try
        {
            connection.Open();
            error = LogFaults.Foreign(connection, name);
            if (error is null)
                MakeReady(connection);
            error ??= LogFaults.Damage(connection, name);
        }
        catch (SqliteException e)
        {
            error = LogFaults.Of(e, name);
        }
        if (error is null)
            return (new(connection, name), null);
        connection.Dispose();
        return (null, error);
    }

    internal static string Words(string file, SqliteOpenMode mode) =>
        new SqliteConnectionStringBuilder { DataSource = file, Mode = mode, Pooling = false, ForeignKeys = true, DefaultTimeout = Patience }.ToString();

    // Readers and one writer at once, and a commit that waits for the disk: www.sqlite.org/wal.html, pragma.html#pragma_synchronous.
    private static void MakeReady(SqliteConnection connection)
    {
        connection.Execute($"PRAGMA busy_timeout = {1000 * Patience}; PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL");
        LogSchema.Raise(connection, LogSchema.Version);
    }

    /// <summary>Keeps entries, all or none. When it returns without an error they are on the disk.</summary>
    /// <returns>Why nothing was kept, or null.</returns>
    public InputError? Record(IEnumerable<LogEntry> entries)
    {
        try
        {
            using SqliteTransaction transaction = connection.BeginTransaction();
            LogWriter writer = new(connection, transaction);
            foreach (LogEntry entry in entries)
                writer.Write(entry);
            transaction.Commit();
            return null;
        }
        catch (SqliteException e)
        {
            return LogFaults.Of(e, name);
        }
    }

    /// <summary>All entries in the order of time; those of one unit when one is named.</summary>
    public (ImmutableArray<LogEntry> Entries, InputError? Error) Entries(UnitName? unit = null)
    {
        try
        {
            using SqliteTransaction transaction = connection.BeginTransaction(deferred: true); // one moment for all tables
            return (new LogReader(connection).Read(unit), null);
        }
        catch (SqliteException e)
        {
            return ([], LogFaults.Of(e, name));
        }
    }

    /// <summary>A copy of this moment in a file that is not there yet, while others may write on.</summary>
    /// <returns>Why there is none, or null.</returns>
    public InputError? BackUp(string file)
    {
        if (File.Exists(file))
            return LogFaults.Exists(file.Replace('\\', '/'));
        try
        {
            connection.Execute("VACUUM INTO @file", new { file });
            return null;
        }
        catch (SqliteException e)
        {
            return LogFaults.Of(e, file.Replace('\\', '/'));
        }
    }

    /// <summary>Closes the file.</summary>
    public void Dispose() => connection.Dispose();
}
