using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;

namespace Consort.Engine.Documents.Panels;

/// <summary>An alphabet of strokes, for legends that are printed, milled or engraved. Shapes stand in strokes.txt.</summary>
public static class StrokeFont
{
    private const double CapitalUnits = 6;
    private const double Gap = 1.7; // between letters, in the units of the alphabet
    private const double Blank = 2.6;
    private const double StrokeShare = 0.13; // of the height of capitals
    private const double LeastStroke = 0.15; // mm; fabricators' usual least line of a legend, common practice

    private static readonly FrozenDictionary<char, Letter> Letters = Load();

    /// <summary>Letters of a text that the alphabet does not have.</summary>
    public static string Missing(string text) => string.Concat(text.Where(c => c != ' ' && !Letters.ContainsKey(c)).Distinct());

    /// <summary>Width of a stroke for letters of that height, mm.</summary>
    public static double StrokeWidth(double height) => Math.Max(LeastStroke, Math.Round(StrokeShare * height, 2));

    /// <summary>Width of a text from outer edge to outer edge, mm.</summary>
    /// <param name="height">Of capitals, mm.</param>
    public static double Width(string text, double height) => (Advance(text) * height / CapitalUnits) + StrokeWidth(height);

    /// <summary>Strokes of a text whose middle stands at x and whose base line at y, mm, y upward.</summary>
    /// <param name="height">Of capitals, mm.</param>
    public static ImmutableArray<Stroke> Draw(string text, double x, double y, double height)
    {
        double scale = height / CapitalUnits;
        double left = x - (Advance(text) * scale / 2);
        ImmutableArray<Stroke>.Builder strokes = ImmutableArray.CreateBuilder<Stroke>();
        foreach (char c in text)
        {
            if (Letters.TryGetValue(c, out Letter? letter))
                foreach (ImmutableArray<Spot> line in letter.Lines)
                    strokes.Add(new(StrokeWidth(height), [.. line.Select(p => new Spot(left + (p.X * scale), y + (p.Y * scale)))]));
            left += ((letter?.Width ?? Blank) + Gap) * scale;
        }
        return strokes.ToImmutable();
    }

    private static double Advance(string text) =>
        text.Length == 0 ? 0 : text.Sum(c => (Letters.TryGetValue(c, out Letter? letter) ? letter.Width : Blank) + Gap) - Gap;

    private static FrozenDictionary<char, Letter> Load()
    {
        using StreamReader reader = new(typeof(StrokeFont).Assembly.GetManifestResourceStream("Consort.Engine.Documents.Panels.strokes.txt")!);
        return reader.ReadToEnd().Split('\n').Where(line => line.Length > 2 && !line.StartsWith("##", StringComparison.Ordinal)).Select(Read).ToFrozenDictionary(pair => pair.Key, pair => pair.Value);
    }

    private static KeyValuePair<char, Letter> Read(string line)
    {
        string[] words = line[2..].Split(' ', 2);
        ImmutableArray<ImmutableArray<Spot>> lines = [.. words[1].Split('|').Select(part => part.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Point).ToImmutableArray())];
        return new(line[0], new(Number(words[0]), lines));
    }

    private static Spot Point(string text) => text.Split(',') is [var x, var y] ? new(Number(x), Number(y)) : throw new FormatException(text);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private sealed record Letter(double Width, ImmutableArray<ImmutableArray<Spot>> Lines);
}
