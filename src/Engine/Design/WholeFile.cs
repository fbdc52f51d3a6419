using System.Text;

namespace Consort.Engine.Design;

/// <summary>Writes a file whole beside its place and moves it in: a reader sees the old file or the new one, never half.</summary>
public static class WholeFile
{
    /// <summary>Writes text as UTF-8.</summary>
    /// <param name="mark">True to begin with a byte order mark.</param>
    /// <exception cref="IOException">The folder cannot be written.</exception>
    public static void Write(string path, string text, bool mark = false) =>
        Write(path, beside =>
        {
            using StreamWriter writer = new(beside, append: false, new UTF8Encoding(mark));
            writer.Write(text);
        });

    /// <summary>Writes bytes.</summary>
    /// <exception cref="IOException">The folder cannot be written.</exception>
    public static void Write(string path, byte[] bytes) => Write(path, beside => File.WriteAllBytes(beside, bytes));

    /// <summary>Writes whatever fills the file of a name.</summary>
    /// <exception cref="IOException">The folder cannot be written.</exception>
    public static void Write(string path, Action<string> fill)
    {
        FileSystemInfo? target = File.Exists(path) ? File.ResolveLinkTarget(path, returnFinalTarget: true) : null;
        string place = target?.FullName ?? Path.GetFullPath(path);
        string beside = $"{place}.{Environment.ProcessId}.part";
        try
        {
            fill(beside);
            if (!OperatingSystem.IsWindows() && File.Exists(place))
                File.SetUnixFileMode(beside, File.GetUnixFileMode(place));
            File.Move(beside, place, overwrite: true);
        }
        finally
        {
            File.Delete(beside); // gone already when all went well
        }
    }
}
