using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Writes a folder of files whole beside its place and then moves it there, in the stead of what stood there.</summary>
public static class WholeFolder
{
    /// <summary>Writes it.</summary>
    /// <param name="folder">Where; what it held before is gone afterwards.</param>
    /// <param name="files">Names with forward slashes, and contents.</param>
    public static void Write(string folder, ImmutableArray<(string Name, byte[] Content)> files)
    {
        string place = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        string beside = $"{place}.{Environment.ProcessId}.part";
        try
        {
            foreach ((string name, byte[] content) in files)
            {
                string path = Path.Combine(beside, name);
                Directory.CreateDirectory(Path.GetDirectoryName(path)!);
                File.WriteAllBytes(path, content);
            }
            if (Directory.Exists(place))
                Directory.Delete(place, recursive: true);
            Directory.Move(beside, place);
        }
        finally
        {
            if (Directory.Exists(beside))
                Directory.Delete(beside, recursive: true);
        }
    }
}
