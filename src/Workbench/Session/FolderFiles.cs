using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Workbench.Folder;

namespace Consort.Workbench.Session;

/// <summary>The design's files of one folder: read, compared, written. None of them may be a link or lie elsewhere.</summary>
internal sealed class FolderFiles(ClosedFolder folder)
{
    /// <summary>Modules above this number are refused: a voice has a handful.</summary>
    private const int MostFiles = 200;

    /// <summary>Where the folder lies.</summary>
    public string Root => folder.Root;

    /// <summary>All texts as they lie on disk.</summary>
    public DesignTexts Read()
    {
        ErrorList errors = new();
        Dictionary<string, SourceText?> files = [];
        (string? modules, string? refusal) = folder.Find("modules");
        if (modules is null)
            errors.Add(ErrorCodes.Unreadable, new("modules", 0, 0, 0), refusal!, "put the modules' files into the folder itself");
        string[] names = [.. new[] { DesignTexts.VoiceFile, DesignTexts.StockFile, DesignTexts.PartsFile }.Where(IsThere).Union([DesignTexts.VoiceFile]), .. Modules(modules, errors)];
        foreach (string name in names)
            files[name] = ReadOne(name, errors);
        return DesignTexts.Of(files, errors.InOrder());
    }

    /// <summary>One file as it lies on disk; null when it cannot be read.</summary>
    public SourceText? ReadOne(string name, ErrorList errors)
    {
        (string? place, string? refusal) = folder.Find(name);
        if (place is not null)
            return SourceText.Read(place, name, errors);
        errors.Add(ErrorCodes.Unreadable, new(name, 0, 0, 0), refusal!, "put the file itself in its place");
        return null;
    }

    /// <summary>Names, sizes and times of all files: another when one of them was written, put there or taken away.</summary>
    public string Stamp()
    {
        try
        {
            DirectoryInfo modules = new(Path.Combine(folder.Root, "modules"));
            IEnumerable<FileInfo> all = new DirectoryInfo(folder.Root).EnumerateFiles("*.yaml").Concat(modules.Exists ? modules.EnumerateFiles("*.yaml").Take(MostFiles) : []);
            return string.Join('\n', all.OrderBy(file => file.FullName, StringComparer.Ordinal).Select(file => $"{file.FullName} {file.Length} {file.LastWriteTimeUtc.Ticks}"));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return e.GetType().Name; // it will be found out, and told, when the texts are read
        }
    }

    /// <summary>Writes one file whole, in its place.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public void Write(SourceText text)
    {
        (string? place, string? refusal) = folder.Find(text.File);
        if (place is null)
            throw new IOException(refusal);
        WholeFile.Write(place, text.Text, text.HadByteOrderMark);
    }

    private bool IsThere(string name) => File.Exists(Path.Combine(folder.Root, name));

    private static IEnumerable<string> Modules(string? place, ErrorList errors)
    {
        if (place is null || !Directory.Exists(place))
            return [];
        string[] names = [.. Directory.EnumerateFiles(place, "*.yaml").Take(MostFiles + 1).Select(path => DesignTexts.FileOf(Path.GetFileNameWithoutExtension(path))).Order(StringComparer.Ordinal)];
        if (names.Length <= MostFiles)
            return names;
        errors.Add(ErrorCodes.TooLarge, new("modules", 0, 0, 0), $"more than {MostFiles} modules", "a voice has a handful: keep the others elsewhere");
        return [];
    }
}
