using Consort.Engine.Design;

namespace Consort.Engine.Documents.Panels;

/// <summary>Panels as JSON, in the shape that docs/json.md describes.</summary>
public static class PanelJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    /// <param name="files">Files that were written, by module.</param>
    public static string Write(PanelSet set, string voice, IReadOnlyList<string> files) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort panel").Number("version", Version).Text("voice", voice);
            json.List("panels", set.Panels, panel =>
            {
                json.Text("module", panel.Drawing.Name).Number("widthMm", panel.Drawing.Width).Number("heightMm", panel.Drawing.Height).Flag("passed", panel.Passes);
                json.List("holes", panel.Drawing.Holes, hole => json.Text("part", hole.Name).Number("xMm", hole.Middle.X).Number("yMm", panel.Drawing.Height - hole.Middle.Y)
                    .Number("diameterMm", hole.Diameter).Number("travelMm", hole.Travel));
                json.List("findings", panel.Findings, finding => Finding(json, finding));
            });
            json.List("without", set.Without, finding => Finding(json, finding));
            json.Texts("files", files);
        });

    private static void Finding(JsonText json, InputError finding) =>
        json.Text("code", finding.Code).Flag("note", finding.IsNote).Text("file", finding.At.File).Number("line", finding.At.Line).Number("column", finding.At.Column)
            .Text("what", finding.What).Text("mend", finding.Mend);
}
