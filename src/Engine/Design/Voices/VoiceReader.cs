using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads <c>voice.yaml</c>: the names in it are looked up, its wiring is not yet judged.</summary>
/// <param name="file">The file's root.</param>
/// <param name="modules">The modules of the folder by file name; null for one that could not be read.</param>
/// <param name="errors">Where mistakes go.</param>
internal sealed partial class VoiceReader(
    MapReader file,
    IReadOnlyDictionary<string, Module?> modules,
    ErrorList errors
)
{
    private readonly Dictionary<string, SourceSpan> names = [];
    private readonly HashSet<string> broken = []; // members, players and multiples that stand there but could not be read

    /// <summary>What could be read.</summary>
    public ReadVoice Read()
    {
        int before = errors.Mistakes;
        string name = file.NeedText("voice", "voice: quartet") ?? "";
        string about = file.Text("about") ?? "";
        Limits limits = ReadLimits(file.Inner("limits"));
        Supply supply = ReadSupply();
        ImmutableArray<Member> members = Each("modules", ReadMember);
        ImmutableArray<Player> players = Each("players", ReadPlayer);
        ImmutableArray<Multiple> multiples = Each("multiples", ReadMultiple);
        JackBook book = new(members, players, multiples);
        (ImmutableArray<Cord> cords, ImmutableArray<CordAt> cordsAt) = ReadCords(book);
        (ImmutableArray<Ribbon> ribbons, ImmutableArray<RibbonAt> ribbonsAt) = ReadRibbons(book);
        limits = limits with { Followers = limits.Followers ?? CountFollowers(ribbons) };
        VoicePlan? plan = ReadPlan(members, players);
        file.RefuseTheRest();
        if (plan is not { Oscillators.IsEmpty: false } && file.Map.Find("modules") is not { Value: YamlMap { Entries.IsEmpty: false } } && errors.Mistakes == before)
            errors.Add(ErrorCodes.NotAMember, file.At, "the voice has no modules", "add 'modules: {lead: {module: NAME}}'");
        return new(
            new(name, about, members, players, multiples, cords, ribbons, supply, limits) { Plan = plan },
            cordsAt,
            ribbonsAt,
            railsAt.ToImmutable(),
            supplyAt,
            errors.Mistakes == before && members.Length + broken.Count > 0 && broken.Count == 0
        );
    }

    // Unless the maker asks for another number, the lead has to carry those that hang on it.
    private static int? CountFollowers(ImmutableArray<Ribbon> ribbons) =>
        ribbons.IsEmpty
            ? null
            : ribbons
                .Where(ribbon => ribbon.From.Owner == ribbons[0].From.Owner)
                .SelectMany(ribbon => ribbon.To)
                .Select(name => name.Owner)
                .Distinct()
                .Count();

    private ImmutableArray<T> Each<T>(string key, Func<YamlEntry, MapReader, T?> read)
        where T : class
    {
        ImmutableArray<T>.Builder all = ImmutableArray.CreateBuilder<T>();
        if (file.Inner(key) is not { } list)
            return [];
        foreach (YamlEntry entry in list.Map.Entries)
        {
            bool isNew = Claim(entry);
            T? one = list.MapOf(entry) is { } map ? read(entry, new(map, entry.Key, errors)) : null;
            if (one is null || !isNew)
                broken.Add(entry.Key);
            else
                all.Add(one);
        }
        return all.ToImmutable();
    }

    private bool Claim(YamlEntry entry)
    {
        if (entry.Key.Contains('/', StringComparison.Ordinal) || entry.Key == "supply")
            errors.Add(ErrorCodes.UnusableName, entry.KeyAt, $"{ErrorList.Quote(entry.Key)} cannot be a name in a voice",
                "take a name without a slash that is not 'supply'");
        if (names.TryAdd(entry.Key, entry.KeyAt))
            return true;
        errors.Add(ErrorCodes.TakenName, entry.KeyAt,
            $"{ErrorList.Quote(entry.Key)} is taken already, in line {names[entry.Key].Line}", "give one of them another name");
        return false;
    }

    private Member? ReadMember(YamlEntry entry, MapReader map)
    {
        string name = entry.Key;
        string? wanted = map.NeedText("module", "module: NAME");
        double stands = map.Number("stands", Dimension.Interval) ?? 0;
        YamlEntry? set = map.Take("set");
        map.RefuseTheRest();
        if (wanted is null || ModuleOf(name, wanted, map) is not { } module)
            return null;
        return new(name, module, stands, set is null ? ImmutableDictionary<string, double>.Empty : ReadSet(map, set, module), entry.KeyAt);
    }

    private Module? ModuleOf(string name, string wanted, MapReader map)
    {
        if (modules.TryGetValue(wanted, out Module? module))
            return module;
        errors.Add(ErrorCodes.NoSuchModule, map.Map.Find("module")!.Value.At,
            $"{name}: there is no file modules/{wanted}.yaml", NearName.Mend(wanted, [.. modules.Keys]));
        return null;
    }

    private ImmutableDictionary<string, double> ReadSet(MapReader member, YamlEntry entry, Module module)
    {
        ImmutableDictionary<string, double>.Builder set = ImmutableDictionary.CreateBuilder<string, double>();
        if (member.MapOf(entry) is not { } map)
            return set.ToImmutable();
        MapReader reader = new(map, $"{member.Who}: set", errors);
        foreach (YamlEntry control in map.Entries)
            if (reader.NumberOf(control, Dimension.Ratio) is { } value && IsMovable(member.Who, control, module, value))
                set[control.Key] = value;
        return set.ToImmutable();
    }

    private bool IsMovable(string member, YamlEntry control, Module module, double value)
    {
        Part? part = module.Circuit.FirstOrDefault(part => part.Name == control.Key);
        string[] movable = [.. module.Circuit.Where(p => Range(p) is not null).Select(p => p.Name)];
        if (part is null)
            errors.Add(ErrorCodes.UnknownControl, control.KeyAt,
                $"{member}: the module '{module.Name}' has no {ErrorList.Quote(control.Key)}", NearName.Mend(control.Key, movable));
        else if (Range(part) is not { } range)
            errors.Add(ErrorCodes.FixedControl, control.KeyAt, $"{member}: {control.Key} is a {part.Kind.Word} and cannot be moved",
                movable.Length == 0 ? "delete the setting" : $"can be moved: {string.Join(", ", movable)}");
        else if (value < range.Low || value > range.High || (range.Whole && value != Math.Floor(value)))
            errors.Add(ErrorCodes.OutOfRange, control.Value.At, $"{member}: {control.Key} cannot stand there",
                range.Whole ? $"a selector's way is a whole number from 1 to {range.High}" : "a position is 0 to 1, or 0% to 100%");
        else
            return true;
        return false;
    }

    private static (double Low, double High, bool Whole)? Range(Part part) =>
        part.Kind.Word switch
        {
            "potentiometer" or "trimmer" => (0, 1, false),
            "selector" => (1, part.Terminals.Count(joint => joint.Terminal.StartsWith("way ", StringComparison.Ordinal)), true),
            _ => null,
        };

    private Player? ReadPlayer(YamlEntry entry, MapReader map)
    {
        string name = entry.Key;
        int before = errors.Mistakes;
        string? plays = map.Word("plays", "pitch", "fixed");
        if (map.Map.Find("plays") is null)
            errors.Add(ErrorCodes.MissingKey, map.At, $"{name}: 'plays' is missing", "add 'plays: pitch' or 'plays: fixed'");
        bool isPitch = plays == "pitch";
        double ohms = map.InRange("resistance", Dimension.Resistance, 1000, 0, 1e9, bare: true);
        double? low = map.Number("from", Dimension.Voltage);
        double? high = map.Number("to", Dimension.Voltage);
        double? at = map.Number("at", Dimension.Voltage);
        map.RefuseTheRest();
        if (plays == "fixed" && at is null && low is null && errors.Mistakes == before)
            errors.Add(ErrorCodes.MissingKey, map.At, $"{name}: 'at' is missing", "add the voltage, as 'at: 0 V'");
        double bottom = low ?? (isPitch ? 0 : at ?? 0);
        double top = high ?? (isPitch ? Math.Max(9, bottom) : Math.Max(at ?? bottom, bottom));
        if (top < bottom)
            errors.Add(ErrorCodes.OutOfRange, map.At, $"{name}: 'to' lies below 'from'", "exchange them");
        return errors.Mistakes > before ? null : new(name, isPitch, ohms, bottom, top, at ?? bottom, entry.KeyAt);
    }

    private static Multiple? ReadMultiple(YamlEntry entry, MapReader map) => MultipleReader.Read(entry.Key, map, entry.KeyAt);
}
