using System.Globalization;

namespace Consort.Tests.Documents.Exchange;

/// <summary>A second reader of ASCII DXF, written from the published group codes alone (Autodesk, DXF Reference, release 12):
/// lines, circles, arcs and polylines by layer.</summary>
internal sealed class DxfReader
{
    /// <summary>Header variables.</summary>
    public Dictionary<string, string> Header { get; } = [];

    /// <summary>Layers that the tables declare.</summary>
    public List<string> Layers { get; } = [];

    /// <summary>Circles.</summary>
    public List<(string Layer, double X, double Y, double Radius)> Circles { get; } = [];

    /// <summary>Arcs.</summary>
    public List<(string Layer, double X, double Y, double Radius, double From, double To)> Arcs { get; } = [];

    /// <summary>Lines.</summary>
    public List<(string Layer, double X1, double Y1, double X2, double Y2)> Lines { get; } = [];

    /// <summary>Polylines.</summary>
    public List<(string Layer, double Width, List<(double X, double Y)> Points)> Polylines { get; } = [];

    /// <summary>Reads a file.</summary>
    public static DxfReader Read(string text)
    {
        string[] lines = text.TrimEnd('\n').Split('\n');
        if (lines.Length % 2 != 0 || text.Any(c => c > 126))
            throw new FormatException("codes and values alternate, in ASCII");
        (int Code, string Value)[] pairs = [.. lines.Chunk(2).Select(pair => (int.Parse(pair[0], NumberStyles.AllowLeadingWhite, CultureInfo.InvariantCulture), pair[1]))];
        if (pairs[^1] != (0, "EOF"))
            throw new FormatException("EOF is missing");
        DxfReader reader = new();
        for (int i = 0; i < pairs.Length; i++)
            if (pairs[i].Code == 9)
                reader.Header[pairs[i].Value] = pairs[i + 1].Value;
            else if (pairs[i].Code == 0)
                reader.Entity(pairs[i].Value, [.. pairs.Skip(i + 1).TakeWhile(pair => pair.Code != 0)]);
        return reader;
    }

    private void Entity(string kind, (int Code, string Value)[] codes)
    {
        string layer = codes.FirstOrDefault(pair => pair.Code == 8).Value ?? "";
        switch (kind)
        {
            case "LAYER": Layers.Add(codes.First(pair => pair.Code == 2).Value); break;
            case "CIRCLE": Circles.Add((layer, N(10), N(20), N(40))); break;
            case "ARC": Arcs.Add((layer, N(10), N(20), N(40), N(50), N(51))); break;
            case "LINE": Lines.Add((layer, N(10), N(20), N(11), N(21))); break;
            case "POLYLINE": Polylines.Add((layer, codes.Any(pair => pair.Code == 40) ? N(40) : 0, [])); break;
            case "VERTEX": Polylines[^1].Points.Add((N(10), N(20))); break;
            case "SECTION" or "ENDSEC" or "TABLE" or "ENDTAB" or "SEQEND" or "EOF": break;
            default: throw new FormatException($"'{kind}' is not known");
        }

        double N(int code) => double.Parse(codes.First(pair => pair.Code == code).Value, CultureInfo.InvariantCulture);
    }
}
