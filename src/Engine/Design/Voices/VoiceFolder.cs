using System.Collections.Immutable;
using System.Runtime.CompilerServices;

namespace Consort.Engine.Design;

/// <summary>A design folder: <c>voice.yaml</c>, <c>modules/*.yaml</c>, and where they are there <c>stock.yaml</c> and
/// <c>parts.yaml</c>.</summary>
public static class VoiceFolder
{
    // A text that was read before is not read again: while a voice is edited, all of its modules but one.
    private static readonly ConditionalWeakTable<SourceText, KnownModule> Known = [];

    /// <summary>Reads a whole folder. Every mistake of every file is found in one run, by file and line. The voice is null
    /// when there is any; notes alone leave it standing. A folder without <c>stock.yaml</c> has an empty shelf.</summary>
    public static (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) Read(string folder) => Read(DesignTexts.Read(folder));

    /// <summary>The same of texts that are already in memory.</summary>
    public static (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) Read(DesignTexts texts)
    {
        ErrorList errors = new();
        errors.Add(texts.Unread);
        PartsLibrary library = PartsLibrary.BuiltIn.With(texts, errors);
        Dictionary<string, Module?> modules = ReadModules(texts, library, errors);
        Stock? stock = ReadStock(texts, errors);
        CheckExtras(stock, [.. modules.Keys], errors);
        Voice? voice = ReadVoice(texts, modules, errors);
        return (errors.Mistakes == 0 ? voice : null, stock, errors.InOrder());
    }

    private static Dictionary<string, Module?> ReadModules(DesignTexts texts, PartsLibrary library, ErrorList errors) =>
        texts.Modules.ToDictionary(module => module.Name, module => module.Source is { } source ? ReadModule(source, library, errors) : null);

    private static Module? ReadModule(SourceText source, PartsLibrary library, ErrorList errors)
    {
        if (!Known.TryGetValue(source, out KnownModule? known) || !ReferenceEquals(known.Library, library))
        {
            ErrorList own = new();
            known = new(library, ModuleReader.Read(source, library, own), own.InOrder());
            Known.AddOrUpdate(source, known);
        }
        errors.Knows(source);
        errors.Add(known.Messages);
        return known.Module;
    }

    private static Stock? ReadStock(DesignTexts texts, ErrorList errors)
    {
        if (!texts.Holds(DesignTexts.StockFile))
            return Stock.Empty;
        int before = errors.Mistakes;
        if (texts.Find(DesignTexts.StockFile) is not { } source || YamlTree.ReadMap(source, errors) is not { } map)
            return null;
        Stock stock = new StockReader(new(map, "stock", errors), errors).Read();
        return errors.Mistakes > before ? null : stock;
    }

    private static void CheckExtras(Stock? stock, string[] modules, ErrorList errors)
    {
        foreach (StockExtra extra in stock?.Extras ?? [])
            if (extra.Only is { } only && !modules.Contains(only))
                errors.Add(ErrorCodes.ExtraForNothing, extra.At, $"{extra.Name} is for the module {ErrorList.Quote(only)}, which is not there",
                    NearName.Mend(only, modules));
    }

    /// <summary>All sound modules of a folder, whether the voice uses them or not, by the files' names.</summary>
    public static ImmutableArray<Module> Modules(string folder) => Modules(DesignTexts.Read(folder));

    /// <summary>The same of texts that are already in memory.</summary>
    public static ImmutableArray<Module> Modules(DesignTexts texts) =>
        [.. ReadModules(texts, Library(texts), new ErrorList()).OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => pair.Value).OfType<Module>()];

    /// <summary>The files of a folder that make up the design, as they are, by their names in it.</summary>
    public static ImmutableArray<(string Name, byte[] Content)> Files(string folder)
    {
        IEnumerable<string> names = DesignTexts.Names(folder);
        return [.. names.Select(name => (name, File.ReadAllBytes(Path.Combine(folder, name))))];
    }

    /// <summary>The models that a folder's parts are taken from: the program's own and those of its <c>parts.yaml</c>.</summary>
    public static PartsLibrary Library(string folder) => Library(DesignTexts.Read(folder));

    /// <summary>The same of texts that are already in memory.</summary>
    public static PartsLibrary Library(DesignTexts texts) => PartsLibrary.BuiltIn.With(texts, new ErrorList());

    private static Voice? ReadVoice(DesignTexts texts, Dictionary<string, Module?> modules, ErrorList errors)
    {
        if (texts.Find(DesignTexts.VoiceFile) is not { } source || YamlTree.ReadMap(source, errors) is not { } map)
            return null;
        ReadVoice read = new VoiceReader(new(map, "voice", errors), modules, errors).Read();
        if (read.Voice is { Plan: not null, Members.IsEmpty: true })
            return read.Voice; // nothing is wired yet
        PatchCheck.Run(read, errors);
        LinkCheck.Run(read, errors);
        SupplyCheck.Run(read, errors);
        if (read.Voice.Plan is null)
            FindIdleModules(map, modules, errors); // a plan chooses among all modules at hand
        return read.Voice;
    }

    private static void FindIdleModules(YamlMap voice, Dictionary<string, Module?> modules, ErrorList errors)
    {
        if (voice.Find("modules") is not { Value: YamlMap members })
            return;
        HashSet<string> used =
        [
            .. members
                .Entries.Select(entry => (entry.Value as YamlMap)?.Find("module")?.Value)
                .OfType<YamlText>()
                .Select(text => text.Value),
        ];
        foreach ((string name, Module? module) in modules.OrderBy(pair => pair.Key, StringComparer.Ordinal))
            if (!used.Contains(name) && module is not null)
                errors.Note(ErrorCodes.IdleModule, new(FileOf(name), 1, 1, 1), $"the voice does not use '{name}'",
                    "name it among the voice's modules, or move the file elsewhere");
    }

    private sealed record KnownModule(PartsLibrary Library, Module? Module, ImmutableArray<InputError> Messages);

    private static string FileOf(string module) => DesignTexts.FileOf(module);
}
