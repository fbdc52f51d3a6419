using System.IO.Compression;

namespace Consort.Engine.Documents.Files;

/// <summary>Zip archives that are the same to the byte for the same content: every entry bears one fixed date.</summary>
public static class SteadyZip
{
    /// <summary>The first date that a zip can bear.</summary>
    public static DateTimeOffset FirstDate { get; } = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>An archive of these files, in the order given.</summary>
    public static byte[] Pack(IEnumerable<(string Name, byte[] Content)> files)
    {
        using MemoryStream stream = new();
        using (ZipArchive archive = new(stream, ZipArchiveMode.Create, leaveOpen: true))
            foreach ((string name, byte[] content) in files)
            {
                ZipArchiveEntry entry = archive.CreateEntry(name, CompressionLevel.Optimal);
                entry.LastWriteTime = FirstDate;
                using Stream to = entry.Open();
                to.Write(content);
            }
        return stream.ToArray();
    }

    /// <summary>The same archive with fixed dates.</summary>
    public static byte[] Steady(byte[] archive)
    {
        using MemoryStream stream = new(archive);
        using ZipArchive from = new(stream, ZipArchiveMode.Read);
        return Pack([.. from.Entries.Select(entry => (entry.FullName, Content(entry)))]);
    }

    private static byte[] Content(ZipArchiveEntry entry)
    {
        using Stream from = entry.Open();
        using MemoryStream to = new();
        from.CopyTo(to);
        return to.ToArray();
    }
}
