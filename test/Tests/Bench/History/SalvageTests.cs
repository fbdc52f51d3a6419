using System.Collections.Immutable;
using Consort.Engine.Bench.History;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Measuring.History;

public sealed class SalvageTests
{
    private const int Page = 4096, Sittings = 400, Readings = 5;

    // Some forty pages: sittings and readings over many, with an index.
    private static byte[] Written(Entries at)
    {
        using (UnitLog log = Entries.Open(at.File()))
            log.Record(Enumerable.Range(0, Sittings).Select(i => Entries.Sitting(new("lead", $"{i % 7}"), Entries.Noon.AddHours(i), Readings)));
        return File.ReadAllBytes(at.File());
    }

    private static void Spoil(string file, byte[] whole, int page)
    {
        byte[] spoiled = [.. whole];
        new Random(page).NextBytes(spoiled.AsSpan(page * Page, Page));
        File.WriteAllBytes(file, spoiled);
    }

    [Fact]
    public void Any_one_spoiled_page_is_told_and_the_other_pages_are_saved()
    {
        using Entries at = new();
        byte[] whole = Written(at);
        int pages = whole.Length / Page, all = Sittings * Readings;
        Assert.InRange(pages, 40, 400);
        for (int page = 0; page < pages; page += 1 + pages / 25)
        {
            Spoil(at.File(), whole, page);
            byte[] before = File.ReadAllBytes(at.File());
            InputError error = UnitLog.Open(at.File()).Error!;
            Assert.Equal(ErrorCodes.DamagedLog.Code, error.Code);
            (Salvage? salvage, InputError? failure) = Salvage.Run(at.File(), at.File($"saved-{page}.db"));
            Assert.Null(failure);
            Assert.Equal(before, File.ReadAllBytes(at.File()));
            ImmutableArray<LogEntry> saved = Entries.Read(at.File($"saved-{page}.db"));
            Assert.Equal(salvage!.Readings, saved.Cast<SittingEntry>().Sum(sitting => sitting.Readings.Length));
            // A page holds some 30 readings, or some 35 sittings with 5 readings each; the middle nodes of trees hold the way to many.
            Assert.True(salvage.Readings > all / 2 || IsNode(whole, page), $"page {page}: {salvage}");
        }
    }

    // Interior nodes of a table's tree begin with 5 (www.sqlite.org/fileformat2.html, 1.6).
    private static bool IsNode(byte[] whole, int page) => page > 0 && whole[page * Page] == 5;

    [Fact]
    public void A_file_without_its_first_page_keeps_all_its_readings()
    {
        using Entries at = new();
        Spoil(at.File(), Written(at), 0);
        (Salvage? salvage, _) = Salvage.Run(at.File(), at.File("saved.db"));
        Assert.Equal((Sittings, Sittings * Readings, 0), (salvage!.Kept, salvage.Readings, salvage.Unreadable));
    }

    [Fact]
    public void A_file_that_was_cut_off_keeps_what_stands_before_the_cut()
    {
        using Entries at = new();
        byte[] whole = Written(at);
        File.WriteAllBytes(at.File(), whole[..(whole.Length / 2 / Page * Page)]);
        Assert.Equal(ErrorCodes.DamagedLog.Code, UnitLog.Open(at.File()).Error?.Code);
        (Salvage? salvage, _) = Salvage.Run(at.File(), at.File("saved.db"));
        Assert.InRange(salvage!.Readings, Sittings * Readings / 5, Sittings * Readings - 1);
        Assert.True(salvage.Unreadable > 0);
    }

    [Fact]
    public void Nothing_is_written_over()
    {
        using Entries at = new();
        Spoil(at.File(), Written(at), 3);
        File.WriteAllText(at.File("saved.db"), "mine");
        Assert.Equal(ErrorCodes.LogThere.Code, Salvage.Run(at.File(), at.File("saved.db")).Error?.Code);
        Assert.Equal("mine", File.ReadAllText(at.File("saved.db")));
    }
}
