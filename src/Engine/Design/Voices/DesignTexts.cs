using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>The texts that make up a design, by their names in its folder, as they lie on disk or as they are being edited.
/// </summary>
/// <param name="Files">Name to text; null for a file that is there and could not be read.</param>
/// <param name="Unread">Why files could not be read.</param>
public sealed record DesignTexts(ImmutableSortedDictionary<string, SourceText?> Files, ImmutableArray<InputError> Unread)
{
    /// <summary>The voice.</summary>
    public const string VoiceFile = "voice.yaml";

    /// <summary>The shelf.</summary>
    public const string StockFile = "stock.yaml";

    /// <summary>The folder's own models.</summary>
    public const string PartsFile = "parts.yaml";

    private const string ModulesFolder = "modules";

    /// <summary>Reads a folder's texts. A voice that is not there is told as a mistake; other files may be missing.</summary>
    public static DesignTexts Read(string folder)
    {
        ErrorList errors = new();
        Dictionary<string, SourceText?> files = [];
        foreach (string name in Names(folder).Append(VoiceFile))
            files.TryAdd(name, SourceText.Read(Path.Combine(folder, name), name, errors));
        return Of(files, errors.InOrder());
    }

    /// <summary>Texts in memory.</summary>
    public static DesignTexts Of(IEnumerable<KeyValuePair<string, SourceText?>> files, ImmutableArray<InputError> unread = default) =>
        new(files.ToImmutableSortedDictionary(StringComparer.Ordinal), unread.IsDefault ? [] : unread);

    /// <summary>Names of the files of a folder that belong to a design.</summary>
    public static ImmutableArray<string> Names(string folder)
    {
        string place = Path.Combine(folder, ModulesFolder);
        IEnumerable<string> modules = Directory.Exists(place)
            ? Directory.EnumerateFiles(place, "*.yaml").Select(path => FileOf(Path.GetFileNameWithoutExtension(path))).Order(StringComparer.Ordinal)
            : [];
        return [.. modules, .. new[] { PartsFile, StockFile, VoiceFile }.Where(name => File.Exists(Path.Combine(folder, name)))];
    }

    /// <summary>The file of a module.</summary>
    public static string FileOf(string module) => $"{ModulesFolder}/{module}.yaml";

    /// <summary>The modules' texts by the modules' file names, in order.</summary>
    public IEnumerable<(string Name, SourceText? Source)> Modules =>
        Files.Where(file => file.Key.StartsWith(ModulesFolder + "/", StringComparison.Ordinal)).Select(file => (Path.GetFileNameWithoutExtension(file.Key), file.Value));

    /// <summary>True when the file is there, readable or not.</summary>
    public bool Holds(string file) => Files.ContainsKey(file);

    /// <summary>A text; null when it is missing or could not be read.</summary>
    public SourceText? Find(string file) => Files.GetValueOrDefault(file);

    /// <summary>The same texts with one of them changed.</summary>
    public DesignTexts With(SourceText text) => this with { Files = Files.SetItem(text.File, text) };
}
