using System.Globalization;
using System.Text;

namespace Consort.Engine.Documents.Panels;

/// <summary>Writes one image in Gerber X2 (Ucamco, The Gerber Layer Format Specification, 2022.02): millimetres, 4 digits
/// before and 6 after the point, round apertures, straight draws, regions.</summary>
internal sealed class GerberText
{
    private readonly StringBuilder body = new();
    private readonly StringBuilder apertures = new();
    private readonly Dictionary<(double Diameter, string Use), int> numbers = [];
    private readonly string header;
    private int selected;

    /// <summary>An image with its file attributes (section 5.6).</summary>
    /// <param name="function">FileFunction, as <c>Legend,Top</c>.</param>
    /// <param name="isNegative">True where the image shows what is not there: openings of a mask.</param>
    /// <param name="version">The program's version.</param>
    public GerberText(string function, bool isNegative, string version) =>
        header = $"%TF.GenerationSoftware,Consort,consort,{version}*%\n%TF.Part,Single*%\n%TF.FileFunction,{function}*%\n"
            + $"%TF.FilePolarity,{(isNegative ? "Negative" : "Positive")}*%\n%TF.SameCoordinates,panel*%\n%FSLAX46Y46*%\n%MOMM*%\n";

    /// <summary>A round flash.</summary>
    /// <param name="use">AperFunction (section 5.6.10): what the shape is for.</param>
    public GerberText Flash(Spot at, double diameter, string use)
    {
        Select(diameter, use);
        body.Append(Place(at)).Append("D03*\n");
        return this;
    }

    /// <summary>A line of straight draws with a round pen.</summary>
    public GerberText Draw(IReadOnlyList<Spot> points, double diameter, string use)
    {
        if (points.Count == 1)
            return Flash(points[0], diameter, use);
        Select(diameter, use);
        body.Append(Place(points[0])).Append("D02*\n");
        for (int i = 1; i < points.Count; i++)
            body.Append(Place(points[i])).Append("D01*\n");
        return this;
    }

    /// <summary>A filled shape; its last point is its first.</summary>
    public GerberText Region(IReadOnlyList<Spot> points, string use)
    {
        body.Append(CultureInfo.InvariantCulture, $"%TA.AperFunction,{use}*%\nG36*\n{Place(points[0])}D02*\n");
        for (int i = 1; i < points.Count; i++)
            body.Append(Place(points[i])).Append("D01*\n");
        body.Append("G37*\n%TD*%\n");
        return this;
    }

    /// <summary>From here on shapes take away (true) or add.</summary>
    public GerberText Clears(bool clears)
    {
        body.Append(clears ? "%LPC*%\n" : "%LPD*%\n");
        return this;
    }

    /// <summary>The file.</summary>
    public override string ToString() => header + apertures + "G01*\n%LPD*%\n" + body + "M02*\n";

    private void Select(double diameter, string use)
    {
        if (!numbers.TryGetValue((diameter, use), out int number))
        {
            number = 10 + numbers.Count; // D10 is the first that is free
            numbers.Add((diameter, use), number);
            apertures.Append(CultureInfo.InvariantCulture, $"%TA.AperFunction,{use}*%\n%ADD{number}C,{diameter:0.0#####}*%\n%TD*%\n");
        }
        if (number != selected)
            body.Append(CultureInfo.InvariantCulture, $"D{number}*\n");
        selected = number;
    }

    private static string Place(Spot at) => string.Create(CultureInfo.InvariantCulture, $"X{Nanometres(at.X)}Y{Nanometres(at.Y)}");

    private static long Nanometres(double mm) => (long)Math.Round(mm * 1e6);
}
