using System.Text;

namespace Consort.Engine.Documents;

/// <summary>Files are written whole beside their place and then moved there, so that nobody reads half of one.</summary>
public static class WholeFile
{
    /// <summary>Writes UTF-8 text without a byte order mark.</summary>
    /// <exception cref="IOException">The folder does not exist or the disk is full.</exception>
    /// <exception cref="UnauthorizedAccessException">The place may not be written.</exception>
    public static void Write(string path, string text)
    {
        string full = Path.GetFullPath(path);
        string beside = $"{full}.{Environment.ProcessId}.part";
        try
        {
            File.WriteAllText(beside, text, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false));
            File.Move(beside, full, overwrite: true);
        }
        catch
        {
            File.Delete(beside);
            throw;
        }
    }
}
