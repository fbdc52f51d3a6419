using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>A design folder: <c>voice.yaml</c>, <c>modules/*.yaml</c>, and where they are there <c>stock.yaml</c> and
/// <c>parts.yaml</c>.</summary>
public static class VoiceFolder
{
    /// <summary>Reads a whole folder. Every mistake of every file is found in one run, by file and line. The voice is null
    /// when there is any; notes alone leave it standing. A folder without <c>stock.yaml</c> has an empty shelf.</summary>
    public static (Voice? Voice, Stock? Stock, ImmutableArray<InputError> Errors) Read(string folder)
    {
        ErrorList errors = new();
        PartsLibrary library = PartsLibrary.BuiltIn.WithFolder(folder, errors);
        Dictionary<string, Module?> modules = ReadModules(folder, library, errors);
        Stock? stock = ReadStock(folder, errors);
        CheckExtras(stock, [.. modules.Keys], errors);
        Voice? voice = ReadVoice(folder, modules, errors);
        return (errors.Mistakes == 0 ? voice : null, stock, errors.InOrder());
    }

    private static Dictionary<string, Module?> ReadModules(string folder, PartsLibrary library, ErrorList errors)
    {
        Dictionary<string, Module?> modules = [];
        string place = Path.Combine(folder, "modules");
        if (!Directory.Exists(place))
            return modules;
        foreach (string path in Directory.EnumerateFiles(place, "*.yaml").Order(StringComparer.Ordinal))
        {
            SourceText? source = SourceText.Read(path, FileOf(Path.GetFileNameWithoutExtension(path)), errors);
            modules[Path.GetFileNameWithoutExtension(path)] = source is null ? null : ModuleReader.Read(source, library, errors);
        }
        return modules;
    }

    private static Stock? ReadStock(string folder, ErrorList errors)
    {
        string path = Path.Combine(folder, "stock.yaml");
        if (!File.Exists(path))
            return Stock.Empty;
        int before = errors.Mistakes;
        if (SourceText.Read(path, "stock.yaml", errors) is not { } source || YamlTree.ReadMap(source, errors) is not { } map)
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
    public static ImmutableArray<Module> Modules(string folder) =>
        [.. ReadModules(folder, Library(folder), new ErrorList()).OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => pair.Value).OfType<Module>()];

    /// <summary>The files of a folder that make up the design, as they are, by their names in it.</summary>
    public static ImmutableArray<(string Name, byte[] Content)> Files(string folder)
    {
        IEnumerable<string> modules = Directory.Exists(Path.Combine(folder, "modules"))
            ? Directory.GetFiles(Path.Combine(folder, "modules"), "*.yaml").Select(file => $"modules/{Path.GetFileName(file)}").Order(StringComparer.Ordinal)
            : [];
        IEnumerable<string> names = modules.Concat(["parts.yaml", "stock.yaml", "voice.yaml"]);
        return [.. names.Where(name => File.Exists(Path.Combine(folder, name))).Select(name => (name, File.ReadAllBytes(Path.Combine(folder, name))))];
    }

    /// <summary>The models that a folder's parts are taken from: the program's own and those of its <c>parts.yaml</c>.</summary>
    public static PartsLibrary Library(string folder) => PartsLibrary.BuiltIn.WithFolder(folder, new ErrorList());

    private static Voice? ReadVoice(string folder, Dictionary<string, Module?> modules, ErrorList errors)
    {
        string path = Path.Combine(folder, "voice.yaml");
        if (SourceText.Read(path, "voice.yaml", errors) is not { } source || YamlTree.ReadMap(source, errors) is not { } map)
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

    private static string FileOf(string module) => $"modules/{module}.yaml";
}
