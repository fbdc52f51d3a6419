using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Grades;
using Consort.Engine.Pitch.Retuning;
using Consort.Engine.Quantities;

namespace Consort.Cli.Verbs;

/// <summary>Writes what was found for parts into their modules' files: the entries that change, and nothing else.</summary>
internal static class ModulePatch
{
    /// <summary>Tolerance and drift of the parts whose grade changes. True when every file was written.</summary>
    public static bool Write(string folder, GradeFinding finding, Screen screen) =>
        Write(
            folder,
            finding
                .Places.Select((place, i) => (Place: place, After: finding.After!.Value[i]))
                .Where(p => p.After != p.Place.Current)
                .SelectMany(p =>
                    ((string, string)[])[("tolerance", GradeTables.Percent(p.Place.Grades[p.After].Tolerance)), ("drift", GradeTables.Drift(p.Place.Grades[p.After].Drift))],
                    (p, entry) => (p.Place.File, p.Place.Designator, entry.Item1, entry.Item2)
                ),
            screen
        );

    /// <summary>The values that change.</summary>
    public static bool Write(string folder, Retuning found, Screen screen) =>
        Write(
            folder,
            found
                .Values.Where(value => value.After != value.Before)
                .Select(value => (value.File, value.Part.Name, value.Part.Kind.Word, QuantityText.Write(value.After, value.Part.Kind.ValueDimension!.Value))),
            screen
        );

    private static bool Write(string folder, IEnumerable<(string File, string Part, string Key, string Text)> changes, Screen screen)
    {
        foreach (IGrouping<string, (string File, string Part, string Key, string Text)> file in changes.GroupBy(change => change.File))
        {
            string path = Path.Combine(folder, file.Key);
            if (DesignFolder.Source(folder, file.Key) is not { } source || YamlTree.ReadMap(source, new ErrorList()) is not { } map)
                return false;
            YamlEdit edit = new(source);
            YamlMap circuit = (YamlMap)map.Find("circuit")!.Value;
            foreach ((_, string part, string key, string text) in file)
                edit.Set((YamlMap)circuit.Find(part)!.Value, key, text);
            if (!screen.Wrote(path, () => edit.WriteTo(path)))
                return false;
        }
        return true;
    }
}
