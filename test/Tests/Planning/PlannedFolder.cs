namespace Consort.Tests.Planning;

/// <summary>An example's modules and shelf with a voice that states only what is wanted.</summary>
internal sealed class PlannedFolder : IDisposable
{
    private readonly DirectoryInfo place = Directory.CreateTempSubdirectory("consort-");

    /// <param name="example">Whose modules, supply and shelf.</param>
    /// <param name="plan">The plan and the players.</param>
    /// <param name="multiples">The shelf's multiples; empty to keep the example's.</param>
    public PlannedFolder(string example, string plan, string multiples = "")
    {
        string from = System.IO.Path.Combine(Golden.Root, "examples", example);
        Directory.CreateDirectory(System.IO.Path.Combine(Path, "modules"));
        foreach (string file in Directory.GetFiles(System.IO.Path.Combine(from, "modules")))
            File.Copy(file, System.IO.Path.Combine(Path, "modules", System.IO.Path.GetFileName(file)));
        string stock = File.ReadAllText(System.IO.Path.Combine(from, "stock.yaml"));
        Write("stock.yaml", multiples.Length == 0 ? stock : stock[..stock.IndexOf("multiples:\n", StringComparison.Ordinal)] + multiples);
        string voice = File.ReadAllText(System.IO.Path.Combine(from, "voice.yaml"));
        string head = voice[..(voice.IndexOf("\nmodules:", StringComparison.Ordinal) + 1)];
        Write("voice.yaml", head + plan);
    }

    /// <summary>Where it lies.</summary>
    public string Path => place.FullName;

    /// <summary>Changes a text in one of the files.</summary>
    public void Change(string file, string old, string text)
    {
        string whole = File.ReadAllText(System.IO.Path.Combine(Path, file));
        if (!whole.Contains(old, StringComparison.Ordinal))
            throw new ArgumentException($"{file} does not hold '{old}'");
        Write(file, whole.Replace(old, text, StringComparison.Ordinal));
    }

    public void Dispose() => place.Delete(recursive: true);

    private void Write(string file, string text) => File.WriteAllText(System.IO.Path.Combine(Path, file), text);
}
