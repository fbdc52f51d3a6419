using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Consort.Engine.Bench;
using Consort.Engine.Bench.History;
using Consort.Engine.Design;
using Dapper;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Consort.Tests.Measuring.History;

public sealed class UnitLogTests
{
    [Fact]
    public void What_was_recorded_reads_back_to_the_bit_in_the_order_of_time()
    {
        using Entries at = new();
        using (UnitLog log = Entries.Open(at.File()))
            Assert.Null(log.Record(Entries.Every().Reverse()));
        Assert.Equal(Entries.Words(Entries.Every()), Entries.Words(Entries.Read(at.File())));
        using UnitLog again = Entries.Open(at.File());
        Assert.Equal(8, again.Entries(Entries.Lead).Entries.Length);
    }

    [Fact]
    public void A_process_that_is_killed_while_it_writes_loses_nothing_that_it_had_answered_for() => Kill(rounds: 12);

    [Fact, Trait("Runs", "Long")]
    public void A_hundred_kills_lose_nothing() => Kill(rounds: 100);

    private static void Kill(int rounds)
    {
        using Entries at = new();
        Random random = new(7);
        int told = 0;
        for (int round = 1; round <= rounds; round++)
        {
            using Process writer = WriterProcess.Start(at.File(), $"r{round}", 100_000);
            int last = 0;
            int until = random.Next(1, 25);
            while (last < until && writer.StandardOutput.ReadLine() is { } line)
                last = int.Parse(line, CultureInfo.InvariantCulture);
            Thread.Sleep(random.Next(0, 4)); // somewhere within a write
            writer.Kill(); // SIGKILL
            while (writer.StandardOutput.ReadLine() is { } rest)
                last = int.TryParse(rest, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : last;
            writer.WaitForExit();
            using UnitLog log = Entries.Open(at.File());
            SittingEntry[] kept = [.. log.Entries(new UnitName("toy", $"r{round}")).Entries.Cast<SittingEntry>()];
            Assert.InRange(kept.Length, last, last + 1); // the last may be on the disk before it was told
            Assert.All(kept, sitting => Assert.Equal(WriterProcess.Readings, sitting.Readings.Length));
            told += last;
        }
        Assert.True(told > rounds);
    }

    [Fact]
    public void Two_processes_that_write_at_once_lose_nothing()
    {
        const int Each = 60;
        using Entries at = new();
        using Process one = WriterProcess.Start(at.File(), "one", Each), two = WriterProcess.Start(at.File(), "two", Each); // also make the file at once
        Assert.Equal(Each, one.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Equal(Each, two.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        one.WaitForExit();
        two.WaitForExit();
        Assert.Equal((0, 0), (one.ExitCode, two.ExitCode));
        Assert.Equal(2 * Each * WriterProcess.Readings, Entries.Read(at.File()).Cast<SittingEntry>().Sum(sitting => sitting.Readings.Length));
    }

    [Fact]
    public void Many_that_make_a_new_history_at_once_all_get_it()
    {
        const int Makers = 8, Rounds = 12; // with the file looked at in several moments, most of the first eight were turned away
        using Entries at = new();
        using Barrier start = new(Makers);
        for (int round = 0; round < Rounds; round++)
        {
            string file = at.File($"{round}.db");
            string?[] refused = new string?[Makers];
            Thread[] makers = [.. Enumerable.Range(0, Makers).Select(maker => new Thread(() => refused[maker] = Make(file, maker, start)))];
            Array.ForEach(makers, maker => maker.Start());
            Array.ForEach(makers, maker => maker.Join());
            Assert.All(refused, Assert.Null);
            Assert.Equal(Makers, Entries.Read(file).Length);
        }
    }

    private static string? Make(string file, int maker, Barrier start)
    {
        start.SignalAndWait();
        (UnitLog? log, InputError? error) = UnitLog.Open(file);
        using (log)
            return (error ?? log!.Record([new NoteEntry(new("toy", $"{maker}"), Entries.Noon, "made")]))?.What;
    }

    [Fact]
    public void Every_older_version_is_brought_up_to_date_with_its_rows()
    {
        for (int version = 1; version < LogSchema.Version; version++)
        {
            using Entries at = new();
            Old(at.File(), version);
            SittingEntry sitting = Assert.IsType<SittingEntry>(Assert.Single(Entries.Read(at.File())));
            Assert.Equal(440.5, Assert.Single(sitting.Readings).Hertz);
            using UnitLog log = Entries.Open(at.File());
            Assert.Null(log.Record(Entries.Every()));
            Assert.Equal(Entries.Every().Length + 1, log.Entries().Entries.Length);
        }
    }

    private static void Old(string file, int version)
    {
        using SqliteConnection connection = new(UnitLog.Words(file, SqliteOpenMode.ReadWriteCreate));
        connection.Open();
        LogSchema.Raise(connection, version);
        Assert.Equal(version, LogSchema.VersionOf(connection));
        connection.Execute(
            """
            INSERT INTO unit (module, serial) VALUES ('lead', '0001');
            INSERT INTO sitting (unit, time, law_hertz, law_volts, law_volts_per_octave, clock_ratio, clock_uncertainty, clock_calibrated)
            VALUES (1, '2026-03-01T12:00:00.000Z', 440, 0, 1, 1, 0, 0);
            INSERT INTO reading (sitting, volts, volts_uncertainty, hertz, uncertainty, origin) VALUES (1, 0, 0, 440.5, 0.1, 'old.csv:2');
            """);
    }

    [Fact]
    public void A_later_history_and_a_stranger_are_left_alone()
    {
        using Entries at = new();
        Old(at.File(), LogSchema.Version);
        Change(at.File(), "PRAGMA user_version = 99");
        Change(at.File("other.db"), "CREATE TABLE thing (id INTEGER)");
        byte[] before = File.ReadAllBytes(at.File()), other = File.ReadAllBytes(at.File("other.db"));
        Assert.Equal(ErrorCodes.NewerLog.Code, UnitLog.Open(at.File()).Error?.Code);
        Assert.Equal(ErrorCodes.ForeignLog.Code, UnitLog.Open(at.File("other.db")).Error?.Code);
        Assert.Equal(before, File.ReadAllBytes(at.File()));
        Assert.Equal(other, File.ReadAllBytes(at.File("other.db")));
    }

    private static void Change(string file, string words)
    {
        using SqliteConnection connection = new(UnitLog.Words(file, SqliteOpenMode.ReadWriteCreate));
        connection.Open();
        connection.Execute(words);
    }

    [Fact]
    public void A_backup_holds_the_same_and_goes_over_no_file()
    {
        using Entries at = new();
        using UnitLog log = Entries.Open(at.File());
        log.Record(Entries.Every());
        Assert.Null(log.BackUp(at.File("copy.db")));
        Assert.Equal(Entries.Words(Entries.Every()), Entries.Words(Entries.Read(at.File("copy.db"))));
        Assert.Equal(ErrorCodes.LogThere.Code, log.BackUp(at.File("copy.db"))?.Code);
    }

    [Fact]
    public void A_folder_that_is_not_there_is_told()
    {
        using Entries at = new();
        InputError error = UnitLog.Open(at.File("nowhere/history.db")).Error!;
        Assert.Equal(ErrorCodes.LogNotOpened.Code, error.Code);
    }
}
