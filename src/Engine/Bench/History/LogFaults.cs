using Consort.Engine.Design;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Consort.Engine.Bench.History;

/// <summary>What may be wrong with a history, in words; result codes: www.sqlite.org/rescode.html.</summary>
internal static class LogFaults
{
    private const int Busy = 5, Locked = 6, Corrupt = 11, Full = 13, NotADatabase = 26;

    /// <summary>From what the library reports.</summary>
    public static InputError Of(SqliteException e, string file) =>
        e.SqliteErrorCode switch
        {
            Corrupt or NotADatabase => Damaged(file, Reason(e)),
            Busy or Locked => Message(ErrorCodes.LogNotOpened, file, "another program has been writing to it for long", "wait until it is done, or close it"),
            Full => Message(ErrorCodes.LogNotOpened, file, "the disk is full; nothing was kept", "make room and call again"),
            _ => Message(ErrorCodes.LogNotOpened, file, $"it cannot be used: {Reason(e)}", "see that the folder exists and may be written, on a disk of this machine"),
        };

    /// <summary>A file that is not ours, or of a later program; null when it may be used.</summary>
    /// <remarks>Mark, version and tables are read at one moment: between two of them another program may make the file, and its
    /// tables beside a mark not yet seen would be a stranger's.</remarks>
    public static InputError? Foreign(SqliteConnection connection, string file)
    {
        using SqliteTransaction moment = connection.BeginTransaction(deferred: true);
        long application = connection.ExecuteScalar<long>("PRAGMA application_id"), version = LogSchema.VersionOf(connection);
        bool isNew = application == 0 && version == 0 && connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema") == 0;
        if (!isNew && application != LogSchema.Application)
            return Message(ErrorCodes.ForeignLog, file, "it is a database, but no history of units", "name another file, or move this one away");
        return version > LogSchema.Version
            ? Message(ErrorCodes.NewerLog, file, $"a later Consort wrote it (version {version}; this one knows up to {LogSchema.Version})", "take that Consort")
            : null;
    }

    /// <summary>What a look through all pages finds; null when they are sound.</summary>
    public static InputError? Damage(SqliteConnection connection, string file)
    {
        string found = connection.ExecuteScalar<string>("PRAGMA quick_check(1)") ?? "ok";
        return found == "ok" ? null : Damaged(file, found.ReplaceLineEndings(" "));
    }

    /// <summary>A file that would be written over.</summary>
    public static InputError Exists(string file) => Message(ErrorCodes.LogThere, file, "it is there already and is not written over", "name a new file");

    private static InputError Damaged(string file, string why) =>
        Message(ErrorCodes.DamagedLog, file, $"the history is damaged ({why})", "save what can be read into a new file: consort units salvage VOICE NEW.db; or take a backup");

    private static InputError Message(ErrorCode code, string file, string what, string mend) => new(code.Code, new(file, 0, 0, 0), $"{what}", mend);

    // SQLite Error 14: 'unable to open database file'.
    private static string Reason(SqliteException e)
    {
        int from = e.Message.IndexOf('\'', StringComparison.Ordinal), to = e.Message.LastIndexOf('\'');
        return to > from ? e.Message[(from + 1)..to] : e.Message;
    }
}
