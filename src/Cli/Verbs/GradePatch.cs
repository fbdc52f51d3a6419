using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Grades;

namespace Consort.Cli.Verbs;

/// <summary>Writes chosen grades into the modules' files: tolerance and drift of the parts that change, and nothing else.</summary>
internal static class GradePatch
{
    /// <summary>True when every file was written.</summary>
    public static bool Write(string folder, GradeFinding finding, Screen screen)
    {
        IEnumerable<IGrouping<string, (GradePlace Place, int After)>> changed = finding
            .Places.Select((place, i) => (Place: place, After: finding.After!.Value[i]))
            .Where(p => p.After != p.Place.Current)
            .GroupBy(p => p.Place.File);
        foreach (IGrouping<string, (GradePlace Place, int After)> file in changed)
        {
            string path = Path.Combine(folder, file.Key);
            if (DesignFolder.Source(folder, file.Key) is not { } source || YamlTree.ReadMap(source, new ErrorList()) is not { } map)
                return false;
            YamlEdit edit = new(source);
            YamlMap circuit = (YamlMap)map.Find("circuit")!.Value;
            foreach ((GradePlace place, int after) in file)
            {
                YamlMap part = (YamlMap)circuit.Find(place.Designator)!.Value;
                Grade grade = place.Grades[after];
                edit.Set(part, "tolerance", GradeTables.Percent(grade.Tolerance));
                edit.Set(part, "drift", GradeTables.Drift(grade.Drift));
            }
            if (!screen.Wrote(path, () => edit.WriteTo(path)))
                return false;
        }
        return true;
    }
}
