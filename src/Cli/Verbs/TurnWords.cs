using System.Globalization;
using Consort.Engine.Bench;
using Consort.Engine.Bench.History;
using Consort.Engine.Design;

namespace Consort.Cli.Verbs;

/// <summary>Makes entries of what a person says about a unit.</summary>
internal static class TurnWords
{
    private const double MostTurns = 100; // a trimmer of 25 turns, there and back twice

    /// <summary>The entries, or what is wrong.</summary>
    public static (List<LogEntry> Entries, string? Fault) Entries(UnitName unit, DateTimeOffset when, UnitsVerb.Line line)
    {
        List<LogEntry> entries = [];
        if (Said(line.Trim) is { } turn)
        {
            if (Turn(turn) is not { } trim)
                return ([], $"{ErrorList.Quote(turn)} is no turn of a trimmer");
            entries.Add(new TrimEntry(unit, when, trim.Trimmer, trim.Turned, trim.Position));
        }
        if (Said(line.Fault) is { } fault)
            entries.Add(new FaultEntry(unit, when, fault, Said(line.Cause), Mended: false));
        if (Said(line.Mended) is { } mended)
            entries.Add(new FaultEntry(unit, when, mended, Said(line.Cause), Mended: true));
        if (Said(line.Note) is { } note)
            entries.Add(new NoteEntry(unit, when, note));
        return entries.Count == 0 ? ([], "there is nothing to record")
            : Said(line.Cause) is not null && !entries.OfType<FaultEntry>().Any() ? ([], "a cause needs its fault")
            : (entries, null);
    }

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    /// <summary>A trimmer's turns, as <c>RV2 +1.5</c>, or its place, as <c>RV2 40%</c> (0 to 1); null when the text is neither.</summary>
    public static (string Trimmer, double? Turned, double? Position)? Turn(string text)
    {
        string[] words = text.Replace(" %", "%", StringComparison.Ordinal).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length != 2 || !double.TryParse(words[1].TrimEnd('%'), NumberStyles.Float, CultureInfo.InvariantCulture, out double number))
            return null;
        if (words[1].EndsWith('%'))
            return number is >= 0 and <= 100 ? (words[0], null, number / 100) : null;
        return Math.Abs(number) <= MostTurns ? (words[0], number, null) : null;
    }
}
