using System.Collections.Immutable;
using System.Text;

namespace Consort.Engine.Design;

/// <summary>The text of one input file, with its lines: what spans point into and error messages quote.</summary>
public sealed class SourceText
{
    /// <summary>Files above this size are refused, characters: a design folder's largest file is a few hundred kB.</summary>
    public const int LargestFile = 4_000_000;

    private readonly ImmutableArray<int> starts;

    private SourceText(string file, string text, bool hadMark)
    {
        File = file;
        Text = text;
        HadByteOrderMark = hadMark;
        starts = LineStarts(text);
    }

    /// <summary>The file's name for messages, relative to the folder.</summary>
    public string File { get; }

    /// <summary>The whole text, without a byte order mark.</summary>
    public string Text { get; }

    /// <summary>True when the file began with a UTF-8 byte order mark, which a write-back keeps.</summary>
    public bool HadByteOrderMark { get; }

    /// <summary>Number of lines.</summary>
    public int LineCount => starts.Length;

    /// <summary>A text that is already in memory.</summary>
    public static SourceText Of(string text, string file) =>
        text.StartsWith('\uFEFF') ? new(file, text[1..], true) : new(file, text, false);

    /// <summary>Reads a file; null with an error in the list when it cannot be read or is no text.</summary>
    /// <param name="path">Where it lies.</param>
    /// <param name="file">Its name for messages.</param>
    public static SourceText? Read(string path, string file, ErrorList errors)
    {
        SourceSpan start = new(file, 1, 1, 1);
        try
        {
            if (new FileInfo(path) is { Exists: true, Length: > LargestFile })
            {
                errors.Add(ErrorCodes.TooLarge, start, $"{file} is larger than {LargestFile / 1_000_000} MB",
                    "a design file is plain text of some kB: name the right file");
                return null;
            }
            return Decode(System.IO.File.ReadAllBytes(path), file, errors);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            errors.Add(ErrorCodes.Unreadable, start with { Line = 0, Column = 0 }, $"{file} cannot be read: {Reason(e)}",
                System.IO.File.Exists(Path.GetDirectoryName(path)) ? "a file stands where its folder is asked: name the folder that holds it" : "see that the file exists and may be read");
            return null;
        }
    }

    /// <summary>Text of a file's bytes; null with an error when they are not UTF-8.</summary>
    public static SourceText? Decode(ReadOnlySpan<byte> bytes, string file, ErrorList errors)
    {
        UTF8Encoding strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);
        try
        {
            return Of(strict.GetString(bytes), file);
        }
        catch (DecoderFallbackException e)
        {
            int line = 1 + bytes[..Math.Clamp(e.Index, 0, bytes.Length)].Count((byte)'\n');
            errors.Add(ErrorCodes.NotText, new(file, line, 1, 1), $"{file} is not UTF-8 text: a wrong byte near line {line}",
                "save the file as UTF-8");
            return null;
        }
    }

    /// <summary>A line, from 1, without its end; empty outside the file.</summary>
    public string Line(int number)
    {
        if (number < 1 || number > starts.Length)
            return "";
        int start = starts[number - 1];
        int end = number < starts.Length ? starts[number] : Text.Length;
        return Text[start..end].TrimEnd('\n', '\r');
    }

    /// <summary>The span from one offset to another; where it runs over the end of its line it stops there.</summary>
    public SourceSpan Span(int start, int end)
    {
        start = Math.Clamp(start, 0, Text.Length);
        int found = starts.BinarySearch(start);
        int line = found >= 0 ? found + 1 : ~found;
        int column = start - starts[line - 1] + 1;
        int rest = Math.Max(1, Line(line).Length - column + 1);
        return new(File, line, column, Math.Clamp(end - start, 1, rest));
    }

    private static ImmutableArray<int> LineStarts(string text)
    {
        ImmutableArray<int>.Builder found = ImmutableArray.CreateBuilder<int>();
        found.Add(0);
        for (int i = 0; i < text.Length; i++)
            if (text[i] == '\n' || (text[i] == '\r' && !(i + 1 < text.Length && text[i + 1] == '\n')))
                found.Add(i + 1);
        return found.ToImmutable();
    }

    private static string Reason(Exception e) =>
        e switch
        {
            FileNotFoundException => "it does not exist",
            DirectoryNotFoundException => "its folder does not exist",
            UnauthorizedAccessException => "it is a folder, or may not be read",
            _ => "the system refuses it",
        };
}
