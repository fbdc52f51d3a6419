using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads a module file: panel, pitch, trims, circuit or data sheet.</summary>
public static class ModuleReader
{
    /// <summary>Reads a module. It is null when it has errors.</summary>
    public static Module? Read(SourceText source, PartsLibrary library, ErrorList errors)
    {
        int before = errors.Count;
        if (YamlTree.ReadMap(source, errors) is not { } root)
            return null;
        MapReader file = new(root, "module", errors);
        string? name = file.NeedText("module", "module: its name");
        string about = file.Text("about")?.Trim() ?? "";
        YamlMap? panelMap = file.Need("panel", "panel: {width: 8 HP, height: 3 U}") is { } entry ? file.MapOf(entry) : null;
        YamlMap? circuitMap = file.Take("circuit") is { } circuit ? file.MapOf(circuit) : null;
        int beforeCircuit = errors.Count;
        ImmutableArray<Part> parts = circuitMap is null ? [] : CircuitReader.Read(circuitMap, library, errors);
        bool partsSound = circuitMap is not null && errors.Count == beforeCircuit;
        DataSheet? sheet = file.Inner("data sheet") is { } data ? ReadSheet(data) : null;
        Panel? panel = panelMap is null ? null : new PanelReader(new(panelMap, "panel", errors), name ?? "", parts, partsSound).Read();
        CheckOneOfTwo(root, errors);
        CheckLabels(parts, errors);
        PitchSpec? pitch = file.Inner("pitch") is { } inner ? PitchReader.Read(inner, parts, partsSound) : null;
        ImmutableArray<TrimStep> trims = TrimReader.Read(file, parts, partsSound);
        ImmutableDictionary<string, string> passes = file.Inner("passes") is { } list ? ReadPasses(list, parts, sheet, partsSound || sheet is not null) : ImmutableDictionary<string, string>.Empty;
        ImmutableArray<string> free = ReadFree(file, parts, partsSound);
        file.RefuseTheRest();
        return errors.Count > before ? null : new(name!, about, panel!, parts, pitch, trims, sheet, root.At) { Passes = passes, Free = free };
    }

    /// <summary>A module from text, with the program's own parts library.</summary>
    public static (Module? Module, ImmutableArray<InputError> Errors) Parse(string text, string file)
    {
        ErrorList errors = new();
        Module? module = Read(SourceText.Of(text, file), PartsLibrary.BuiltIn, errors);
        return (module, errors.InOrder());
    }

    private static ImmutableArray<string> ReadFree(MapReader file, ImmutableArray<Part> parts, bool partsSound)
    {
        string[] known = [.. parts.Where(part => part.Kind.Word is "resistor" or "capacitor" && part.Numbers.GetValueOrDefault("tolerance") > 0).Select(part => part.Name)];
        ImmutableArray<string>.Builder free = ImmutableArray.CreateBuilder<string>();
        foreach (YamlNode item in file.Items("free"))
            if (item is YamlText text && (!partsSound || known.Contains(text.Value)))
                free.Add(text.Value);
            else
                file.Errors.Add(ErrorCodes.FreeNothing, item.At, "free: this is no resistor or capacitor of the circuit with a tolerance", item is YamlText near ? NearName.Mend(near.Value, known) : "write 'free: [R8, R14]'");
        return free.ToImmutable();
    }

    private static ImmutableDictionary<string, string> ReadPasses(MapReader list, ImmutableArray<Part> parts, DataSheet? sheet, bool isSound)
    {
        string[] inputs = [.. Labels("input"), .. sheet?.Inputs.Keys ?? []], outputs = [.. Labels("output"), .. sheet?.Outputs.Keys ?? []];
        ImmutableDictionary<string, string>.Builder passes = ImmutableDictionary.CreateBuilder<string, string>();
        foreach (YamlEntry entry in list.Map.Entries)
            if (list.TextOf(entry) is { } output)
            {
                passes[entry.Key] = output.Value;
                if (isSound && !inputs.Contains(entry.Key))
                    list.Errors.Add(ErrorCodes.PassesNothing, entry.KeyAt, $"passes: there is no input jack {ErrorList.Quote(entry.Key)}", NearName.Mend(entry.Key, inputs));
                if (isSound && !outputs.Contains(output.Value))
                    list.Errors.Add(ErrorCodes.PassesNothing, output.At, $"passes: there is no output jack {ErrorList.Quote(output.Value)}", NearName.Mend(output.Value, outputs));
            }
        return passes.ToImmutable();

        IEnumerable<string> Labels(string way) => parts.Where(part => part.Kind.Word == "jack" && part.Texts["value"] == way).Select(part => part.Texts["label"]);
    }

    private static DataSheet ReadSheet(MapReader sheet)
    {
        ImmutableDictionary<string, double> inputs = Values(sheet, "inputs", Dimension.Resistance);
        ImmutableDictionary<string, double> outputs = Values(sheet, "outputs", Dimension.Resistance);
        double? tracking = sheet.Number("tracking", Dimension.Interval);
        ImmutableDictionary<string, double> currents = Values(sheet, "current", Dimension.Current);
        double? price = SaleReader.Price(sheet);
        sheet.RefuseTheRest();
        return new(inputs, outputs, tracking, currents) { Price = price };
    }

    private static ImmutableDictionary<string, double> Values(MapReader sheet, string key, Dimension dimension)
    {
        ImmutableDictionary<string, double>.Builder values = ImmutableDictionary.CreateBuilder<string, double>();
        if (sheet.Inner(key) is not { } inner)
            return values.ToImmutable();
        foreach (YamlEntry entry in inner.Map.Entries)
            if (inner.NumberOf(entry, dimension, bare: dimension == Dimension.Resistance) is not { } value)
                continue;
            else if (value > 0 || (value == 0 && key != "inputs"))
                values[entry.Key] = value;
            else
                sheet.Errors.Add(ErrorCodes.OutOfRange, entry.Value.At, $"{key}: {entry.Key} must be above 0", $"write it as {DimensionWords.Of(dimension).Example}");
        return values.ToImmutable();
    }

    private static void CheckOneOfTwo(YamlMap root, ErrorList errors)
    {
        YamlEntry? circuit = root.Find("circuit");
        YamlEntry? sheet = root.Find("data sheet");
        if (circuit is not null && sheet is not null)
            errors.Add(ErrorCodes.CircuitOrSheet, sheet.KeyAt, "this module has a circuit and a data sheet", "delete one of them");
        else if (circuit is null && sheet is null)
            errors.Add(ErrorCodes.CircuitOrSheet, root.At, "this module has neither a circuit nor a data sheet", "add 'circuit:' or 'data sheet:'");
        if (circuit is null && sheet is not null)
            foreach (string key in (string[])["pitch", "trims"])
                if (root.Find(key) is { } entry)
                    errors.Add(ErrorCodes.PitchWithoutCircuit, entry.KeyAt, $"'{key}' without a circuit", "state 'tracking' in the data sheet instead");
    }

    private static void CheckLabels(ImmutableArray<Part> parts, ErrorList errors)
    {
        Dictionary<(string, string), string> seen = [];
        foreach (Part part in parts)
        {
            if (part.Kind.Word is not ("jack" or "header"))
                continue;
            string label = part.Texts[part.Kind.Word == "jack" ? "label" : "value"];
            if (!seen.TryAdd((part.Kind.Word, label), part.Name))
                errors.Add(ErrorCodes.SameLabel, part.At, $"{part.Name}: {seen[(part.Kind.Word, label)]} is already called {ErrorList.Quote(label)}", "give it a name of its own");
        }
    }
}
