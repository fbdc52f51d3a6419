using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Cli;

/// <summary>Reads a voice's folder for a verb: places are named from where the caller stands, so that a terminal can open
/// them.</summary>
internal static class DesignFolder
{
    /// <summary>The voice and its shelf, or null with the reasons.</summary>
    public static (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) Read(string folder)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = VoiceFolder.Read(folder);
        return (voice, stock, FromHere(folder, errors));
    }

    /// <summary>Messages with their files named from where the caller stands.</summary>
    public static ImmutableArray<InputError> FromHere(string folder, ImmutableArray<InputError> errors) =>
        [.. errors.Select(error => error with { At = error.At with { File = From(folder, error.At.File) } })];

    /// <summary>The text of one of the folder's files, for messages.</summary>
    public static SourceText? Source(string folder, string file) => SourceText.Read(Path.Combine(folder, file), file, new ErrorList());

    /// <summary>A file of the folder as the caller would name it.</summary>
    public static string From(string folder, string file) =>
        file.Length == 0 ? folder : Path.Combine(folder, file).Replace('\\', '/');
}
