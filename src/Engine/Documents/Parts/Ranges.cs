using System.Text.RegularExpressions;

namespace Consort.Engine.Documents.Parts;

/// <summary>Writes designators shortly: <c>R1-R4, R7</c>.</summary>
public static partial class Ranges
{
    /// <summary>Runs of three and more are drawn together; two neighbours stay two.</summary>
    public static string Write(IEnumerable<string> designators)
    {
        List<string> written = [];
        List<(string Letters, int Number, string Whole)> run = [];
        foreach ((string letters, int number, string whole) in designators.Select(Split).OrderBy(d => d.Letters, StringComparer.Ordinal).ThenBy(d => d.Number))
        {
            if (run.Count > 0 && (number < 0 || run[^1].Letters != letters || run[^1].Number + 1 != number))
                Close(run, written);
            run.Add((letters, number, whole));
        }
        Close(run, written);
        return string.Join(", ", written);
    }

    private static void Close(List<(string Letters, int Number, string Whole)> run, List<string> written)
    {
        if (run.Count >= 3)
            written.Add($"{run[0].Whole}-{run[^1].Whole}");
        else
            written.AddRange(run.Select(one => one.Whole));
        run.Clear();
    }

    private static (string Letters, int Number, string Whole) Split(string designator)
    {
        Match match = Numbered().Match(designator);
        return match.Success ? (match.Groups["letters"].Value, int.Parse(match.Groups["number"].Value), designator) : (designator, -1, designator);
    }

    [GeneratedRegex("^(?<letters>[A-Za-z]+)(?<number>[0-9]{1,6})$", RegexOptions.NonBacktracking)]
    private static partial Regex Numbered();
}
