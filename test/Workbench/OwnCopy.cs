namespace Consort.Workbench.Tests;

/// <summary>A copy of an example's folder, to be changed and thrown away.</summary>
internal sealed class OwnCopy : IDisposable
{
    private readonly DirectoryInfo place = Directory.CreateTempSubdirectory("consort-");

    public OwnCopy(string example)
    {
        string from = System.IO.Path.Combine(Root, "examples", example);
        foreach (string file in Directory.EnumerateFiles(from, "*.yaml", SearchOption.AllDirectories))
        {
            string to = System.IO.Path.Combine(Path, System.IO.Path.GetRelativePath(from, file));
            Directory.CreateDirectory(System.IO.Path.GetDirectoryName(to)!);
            File.Copy(file, to);
        }
    }

    /// <summary>The repository's folder.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Where it lies, a folder that is thrown away with all that stands in it.</summary>
    public string Path => System.IO.Path.Combine(place.FullName, "voice");

    /// <summary>One of its files.</summary>
    public string At(string name) => System.IO.Path.Combine(Path, name);

    public void Dispose() => place.Delete(recursive: true);

    private static string FindRoot()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(System.IO.Path.Combine(folder, "Consort.slnx")))
            folder = System.IO.Path.GetDirectoryName(folder);
        return folder ?? throw new DirectoryNotFoundException("the tests run outside the repository");
    }
}
