using System.Globalization;
using System.Text.RegularExpressions;

namespace Consort.Tests.Documents.Exchange;

/// <summary>A second reader of XNC drill files, written from the published format alone (Ucamco, XNC Format Specification,
/// from memory): one unit, tools declared in the header, decimal points in every coordinate, drilling and straight routs.</summary>
internal sealed class XncReader
{
    private readonly Dictionary<string, double> tools = [];
    private string? tool;
    private bool isDrilling;
    private bool isDown;
    private (double X, double Y)? at;

    /// <summary>Comments of the header, attributes among them.</summary>
    public List<string> Comments { get; } = [];

    /// <summary>Drilled holes.</summary>
    public List<(double X, double Y, double Diameter)> Holes { get; } = [];

    /// <summary>Routed slots.</summary>
    public List<(double X1, double Y1, double X2, double Y2, double Diameter)> Slots { get; } = [];

    /// <summary>Reads a file.</summary>
    /// <exception cref="FormatException">It breaks the format.</exception>
    public static XncReader Read(string text)
    {
        string[] lines = text.TrimEnd('\n').Split('\n');
        if (lines[0] != "M48" || lines[^1] != "M30")
            throw new FormatException("a file begins with M48 and ends with M30");
        int body = Array.IndexOf(lines, "%");
        XncReader reader = new();
        foreach (string line in lines[1..body])
            reader.Header(line);
        foreach (string line in lines[(body + 1)..^1])
            reader.Body(line);
        if (lines[1..body].Count(line => line is "METRIC" or "INCH") != 1)
            throw new FormatException("one unit, once");
        return reader;
    }

    private void Header(string line)
    {
        if (line.StartsWith(';'))
            Comments.Add(line[1..].Trim());
        else if (Regex.Match(line, @"^T(?<n>\d\d)C(?<d>\d+\.\d+)$") is { Success: true } declared)
            tools.Add(declared.Groups["n"].Value, Number(declared.Groups["d"].Value));
        else if (line is not ("METRIC" or "INCH"))
            throw new FormatException($"'{line}' in the header");
    }

    private void Body(string line)
    {
        if (line == "G05")
            isDrilling = true;
        else if (line == "M15")
            isDown = true;
        else if (line == "M16")
            isDown = false;
        else if (Regex.Match(line, @"^T(?<n>\d\d)$") is { Success: true } chosen)
            tool = tools.ContainsKey(chosen.Groups["n"].Value) ? chosen.Groups["n"].Value : throw new FormatException($"{line} is not declared");
        else if (Regex.Match(line, @"^(?<g>G00|G01)?X(?<x>-?\d+\.\d+)Y(?<y>-?\d+\.\d+)$") is { Success: true } place)
            Go(place.Groups["g"].Value, (Number(place.Groups["x"].Value), Number(place.Groups["y"].Value)));
        else
            throw new FormatException($"'{line}' in the body");
    }

    private void Go(string mode, (double X, double Y) to)
    {
        double diameter = tool is { } number ? tools[number] : throw new FormatException("no tool");
        if (mode == "G00")
            isDrilling = false;
        else if (mode == "G01")
            Slots.Add(isDown && at is { } from ? (from.X, from.Y, to.X, to.Y, diameter) : throw new FormatException("a rout with the tool up"));
        else
            Holes.Add(isDrilling ? (to.X, to.Y, diameter) : throw new FormatException("a hole while routing"));
        at = to;
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
