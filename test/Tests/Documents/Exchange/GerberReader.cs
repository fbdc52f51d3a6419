using System.Globalization;
using System.Text.RegularExpressions;

namespace Consort.Tests.Documents.Exchange;

/// <summary>A second reader of Gerber images, written from the published format alone (Ucamco, The Gerber Layer Format
/// Specification 2022.02, sections 2 to 5): round apertures, straight draws, flashes, regions, polarity, attributes. It
/// shares nothing with the writer and refuses what the format forbids.</summary>
internal sealed class GerberReader
{
    private readonly Dictionary<int, double> apertures = [];
    private readonly Dictionary<int, string> uses = [];
    private readonly Dictionary<string, string> current = [];
    private readonly List<(double X, double Y)> contour = [];
    private (double X, double Y)? at;
    private double? unit;
    private int decimals = -1;
    private int? selected;
    private bool isLinear;
    private bool isInRegion;
    private bool isClear;
    private bool hasEnded;

    /// <summary>File attributes by name.</summary>
    public Dictionary<string, string> File { get; } = [];

    /// <summary>Flashes: place, diameter, use, taken away or added.</summary>
    public List<(double X, double Y, double Diameter, string Use, bool Clears)> Flashes { get; } = [];

    /// <summary>Draws: ends, diameter, use, taken away or added.</summary>
    public List<(double X1, double Y1, double X2, double Y2, double Diameter, string Use, bool Clears)> Draws { get; } = [];

    /// <summary>Regions: corners.</summary>
    public List<(double X, double Y)[]> Regions { get; } = [];

    /// <summary>Apertures by number.</summary>
    public IReadOnlyDictionary<int, double> Apertures => apertures;

    /// <summary>Reads a file.</summary>
    /// <exception cref="FormatException">It breaks the format.</exception>
    public static GerberReader Read(string text)
    {
        GerberReader reader = new();
        foreach (Match word in Regex.Matches(text, @"%(?<long>[^%]*)%|(?<short>[^*%\s][^*%]*)\*|(?<rest>\S)", RegexOptions.ExplicitCapture))
        {
            if (reader.hasEnded)
                throw new FormatException("something stands after M02");
            if (word.Groups["rest"].Success)
                throw new FormatException($"'{word.Value}' is no command");
            if (word.Groups["long"].Success)
                foreach (string command in word.Groups["long"].Value.Trim().TrimEnd('*').Split('*'))
                    reader.Extended(command.Trim());
            else
                reader.Short(word.Groups["short"].Value.Trim());
        }
        return reader.hasEnded ? reader : throw new FormatException("M02 is missing");
    }

    private void Extended(string command)
    {
        if (command.StartsWith("FSLAX", StringComparison.Ordinal))
            decimals = Once(decimals < 0, int.Parse(command.AsSpan(6, 1)), "FS");
        else if (command.StartsWith("MO", StringComparison.Ordinal))
            unit = Once(unit is null, command[2..] switch { "MM" => 1.0, "IN" => 25.4, _ => throw new FormatException(command) }, "MO");
        else if (command.StartsWith("AD", StringComparison.Ordinal))
            Aperture(command);
        else if (command is "LPD" or "LPC")
            isClear = command == "LPC";
        else if (command.StartsWith("TF.", StringComparison.Ordinal))
            File.Add(command[3..].Split(',')[0], command[(command.IndexOf(',') + 1)..]);
        else if (command.StartsWith("TA.", StringComparison.Ordinal))
            current[command[3..].Split(',')[0]] = command[(command.IndexOf(',') + 1)..];
        else if (command == "TD")
            current.Clear();
        else
            throw new FormatException($"'{command}' is not known");
    }

    private static T Once<T>(bool isFirst, T value, string what) => isFirst ? value : throw new FormatException($"{what} stands twice");

    private void Aperture(string command)
    {
        Match match = Regex.Match(command, @"^ADD(?<number>\d+)C,(?<size>[\d.]+)$");
        int number = int.Parse(match.Groups["number"].Value);
        if (!match.Success || number < 10)
            throw new FormatException(command);
        apertures.Add(number, double.Parse(match.Groups["size"].Value, CultureInfo.InvariantCulture) * (unit ?? throw new FormatException("AD before MO")));
        uses[number] = current.GetValueOrDefault("AperFunction", "");
    }

    private void Short(string command)
    {
        if (command.StartsWith("G04", StringComparison.Ordinal))
            return;
        if (command == "G01")
            isLinear = true;
        else if (command == "G36")
            isInRegion = true;
        else if (command == "G37")
        {
            Close();
            isInRegion = false;
        }
        else if (command == "M02")
            hasEnded = true;
        else if (Regex.Match(command, @"^D(?<n>[1-9]\d+)$") is { Success: true } chosen && int.Parse(chosen.Groups["n"].Value) is var number and >= 10)
            selected = apertures.ContainsKey(number) ? number : throw new FormatException($"D{number} is used before it is defined");
        else
            Operation(command);
    }

    private void Operation(string command)
    {
        Match match = Regex.Match(command, @"^X(?<x>-?\d+)Y(?<y>-?\d+)D0(?<op>[123])$");
        if (!match.Success)
            throw new FormatException($"'{command}' is not known");
        if (decimals is not (5 or 6) || unit is not { } scale)
            throw new FormatException("a coordinate before FS and MO");
        (double X, double Y) to = (Coordinate("x"), Coordinate("y"));
        switch (match.Groups["op"].Value)
        {
            case "1" when isInRegion: contour.Add(to); break;
            case "1": Draw(to); break;
            case "2" when isInRegion: Close(); contour.Add(to); break;
            case "3" when isInRegion: throw new FormatException("a flash inside a region");
            case "3": Flashes.Add((to.X, to.Y, Size(), uses[selected!.Value], isClear)); break;
            default: break;
        }
        at = to;

        double Coordinate(string name) => double.Parse(match.Groups[name].Value, CultureInfo.InvariantCulture) / Math.Pow(10, decimals) * scale;
    }

    private void Draw((double X, double Y) to)
    {
        if (!isLinear)
            throw new FormatException("a draw before G01");
        (double X, double Y) from = at ?? throw new FormatException("a draw from nowhere");
        Draws.Add((from.X, from.Y, to.X, to.Y, Size(), uses[selected!.Value], isClear));
    }

    private double Size() => selected is { } number ? apertures[number] : throw new FormatException("no aperture is selected");

    private void Close()
    {
        if (contour.Count == 0)
            return;
        if (contour.Count < 4 || contour[0] != contour[^1])
            throw new FormatException("a contour that is not closed");
        Regions.Add([.. contour]);
        contour.Clear();
    }
}
