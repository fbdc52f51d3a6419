using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>A model of the parts library: a generic part with the values of its data sheet.</summary>
/// <param name="Name">The part number or generic name.</param>
/// <param name="Kind">Kind of part.</param>
/// <param name="Sheet">Maker, document and revision that the values come from.</param>
/// <param name="Polarity">For a matched pair: the kind of its transistors, npn or pnp; else null.</param>
/// <param name="Numbers">Parameter word to value, SI units; a matched pair holds its transistors' parameters too.</param>
/// <param name="Texts">Text parameters.</param>
/// <param name="At">Where it stands.</param>
public sealed record LibraryEntry(
    string Name,
    PartKind Kind,
    string Sheet,
    string? Polarity,
    ImmutableDictionary<string, double> Numbers,
    ImmutableDictionary<string, string> Texts,
    SourceSpan At
)
{
    /// <summary>The package that it comes in; null when it is not stated.</summary>
    public string? Package { get; init; }

    /// <summary>How many of it one package holds: two op amps in a TL072.</summary>
    public int Sections { get; init; } = 1;
}

/// <summary>Models by kind and name: the program's own, and a folder's parts.yaml on top.</summary>
public sealed class PartsLibrary
{
    /// <summary>The name of the model that does no harm: every parameter at its ideal, else at its default.</summary>
    public const string Ideal = "ideal";

    private static readonly Lazy<PartsLibrary> Own = new(LoadOwn);

    private readonly FrozenDictionary<(string Kind, string Name), LibraryEntry> entries;

    private PartsLibrary(IEnumerable<LibraryEntry> all)
    {
        Dictionary<(string, string), LibraryEntry> byName = [];
        foreach (LibraryEntry entry in all)
            byName[(entry.Kind.Word, entry.Name)] = entry;
        entries = byName.ToFrozenDictionary();
    }

    /// <summary>The library that comes with the program.</summary>
    public static PartsLibrary BuiltIn => Own.Value;

    /// <summary>All entries, by kind and name.</summary>
    public IEnumerable<LibraryEntry> All =>
        entries.Values.OrderBy(e => e.Kind.Word, StringComparer.Ordinal).ThenBy(e => e.Name, StringComparer.Ordinal);

    /// <summary>The model of that name and kind, or null.</summary>
    public LibraryEntry? Find(PartKind kind, string name) => entries.GetValueOrDefault((kind.Word, name));

    /// <summary>The names of a kind's models, in order.</summary>
    public IReadOnlyCollection<string> Names(PartKind kind) =>
        [.. All.Where(entry => entry.Kind == kind).Select(entry => entry.Name)];

    /// <summary>This library and more entries; the new ones count where names are the same.</summary>
    public PartsLibrary With(IEnumerable<LibraryEntry> more) => new([.. entries.Values, .. more]);

    /// <summary>This library and a folder's own file, when there is one.</summary>
    /// <param name="folder">The folder that may hold <c>parts.yaml</c>.</param>
    public PartsLibrary WithFolder(string folder, ErrorList errors)
    {
        string path = Path.Combine(folder, DesignTexts.PartsFile);
        if (!File.Exists(path) || SourceText.Read(path, DesignTexts.PartsFile, errors) is not { } source)
            return this;
        return With(LibraryReader.Read(source, errors));
    }

    /// <summary>This library and the folder's own file as it is in memory, when there is one.</summary>
    /// <param name="texts">The folder's texts, <c>parts.yaml</c> perhaps among them.</param>
    public PartsLibrary With(DesignTexts texts, ErrorList errors) =>
        texts.Find(DesignTexts.PartsFile) is { } source ? With(LibraryReader.Read(source, errors)) : this;

    private static PartsLibrary LoadOwn()
    {
        ErrorList errors = new();
        List<LibraryEntry> all = [.. OwnFiles().SelectMany(source => LibraryReader.Read(source, errors))];
        return errors.Count == 0 ? new(all)
            : throw new InvalidOperationException(string.Join('\n', errors.InOrder().Select(e => e.Render())));
    }

    /// <summary>The library's own files.</summary>
    internal static IEnumerable<SourceText> OwnFiles()
    {
        System.Reflection.Assembly engine = typeof(PartsLibrary).Assembly;
        foreach (string name in engine.GetManifestResourceNames().Order(StringComparer.Ordinal))
        {
            if (!name.Contains(".Design.Library.", StringComparison.Ordinal))
                continue;
            using StreamReader reader = new(engine.GetManifestResourceStream(name)!);
            yield return SourceText.Of(reader.ReadToEnd(), name[(name.IndexOf("Library.", StringComparison.Ordinal) + 8)..]);
        }
    }
}
