using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Gathers every mistake of a run, with the source lines that the messages quote.</summary>
public sealed class ErrorList
{
    private readonly List<InputError> errors = [];
    private readonly Dictionary<string, SourceText> sources = [];

    /// <summary>How many messages so far, notes included.</summary>
    public int Count => errors.Count;

    /// <summary>How many of them are mistakes.</summary>
    public int Mistakes => errors.Count(error => !error.IsNote);

    /// <summary>Makes a file's lines known, so that errors in it can quote them.</summary>
    public void Knows(SourceText source) => sources[source.File] = source;

    /// <summary>Adds a mistake.</summary>
    /// <param name="what">What is wrong, one line.</param>
    /// <param name="mend">How to mend it, one line.</param>
    public void Add(ErrorCode code, SourceSpan at, string what, string mend) =>
        errors.Add(Message(code, at, what, mend));

    /// <summary>Adds messages that were made elsewhere.</summary>
    public void Add(IEnumerable<InputError> messages) => errors.AddRange(messages);

    /// <summary>Adds what is odd but harms nothing.</summary>
    public void Note(ErrorCode code, SourceSpan at, string what, string mend) =>
        errors.Add(Message(code, at, what, mend) with { IsNote = true });

    /// <summary>All mistakes by file, line and column; those of one place in the order in which they were found.</summary>
    public ImmutableArray<InputError> InOrder() =>
        [
            .. errors
                .OrderBy(e => e.At.File, StringComparer.Ordinal)
                .ThenBy(e => e.At.Line)
                .ThenBy(e => e.At.Column),
        ];

    private InputError Message(ErrorCode code, SourceSpan at, string what, string mend) =>
        new(code.Code, at, what, mend, sources.GetValueOrDefault(at.File)?.Line(at.Line) ?? "");

    /// <summary>A piece of input in quotes, shortened when it is long.</summary>
    public static string Quote(string text) => text.Length > 60 ? $"'{text[..57]}...'" : $"'{text}'";
}
