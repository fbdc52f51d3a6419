namespace Consort.Workbench.Folder;

/// <summary>Where the program keeps what belongs to no voice's folder.</summary>
public static class DataFolder
{
    /// <summary>The folder: <c>CONSORT_DATA</c> where it is set, else the user's own place for programs' data (XDG Base Directory
    /// Specification 0.8: <c>~/.local/share/consort</c>).</summary>
    public static ClosedFolder Find()
    {
        string? asked = Environment.GetEnvironmentVariable("CONSORT_DATA");
        string home = Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create);
        ClosedFolder folder = new(string.IsNullOrEmpty(asked) ? Path.Combine(home.Length > 0 ? home : Path.GetTempPath(), "consort") : asked);
        return folder;
    }
}
