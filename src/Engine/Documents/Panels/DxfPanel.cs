using System.Globalization;
using System.Text;

namespace Consort.Engine.Documents.Panels;

/// <summary>A panel as ASCII DXF of release 12 (AC1009), in millimetres: the plainest form of the published format
/// (Autodesk, DXF Reference), read by every drawing and laser program.</summary>
public static class DxfPanel
{
    private static readonly string[] Layers = ["OUTLINE", "HOLES", "LEGEND", "NUTS", "KNOBS", "BODIES"];

    /// <summary>The file's text.</summary>
    public static string Write(PanelDrawing panel)
    {
        DxfText dxf = new();
        Header(dxf, panel);
        dxf.Pair(0, "SECTION").Pair(2, "ENTITIES");
        dxf.Polyline("OUTLINE", 0, [new(0, 0), new(panel.Width, 0), new(panel.Width, panel.Height), new(0, panel.Height), new(0, 0)]);
        foreach (PanelHole hole in panel.Holes)
            Hole(dxf, hole);
        foreach (Stroke stroke in panel.Legend)
            dxf.Polyline("LEGEND", stroke.Width, stroke.Points);
        foreach (PanelShape shape in panel.Shapes)
            Shape(dxf, shape);
        return dxf.Pair(0, "ENDSEC").Pair(0, "EOF").ToString();
    }

    private static void Header(DxfText dxf, PanelDrawing panel)
    {
        dxf.Pair(999, $"{panel.Name}, seen from the front, millimetres");
        dxf.Pair(0, "SECTION").Pair(2, "HEADER");
        dxf.Pair(9, "$ACADVER").Pair(1, "AC1009").Pair(9, "$INSUNITS").Pair(70, "4"); // 4: millimetres
        dxf.Pair(9, "$EXTMIN").Point(10, new(0, 0)).Pair(9, "$EXTMAX").Point(10, new(panel.Width, panel.Height)).Pair(0, "ENDSEC");
        dxf.Pair(0, "SECTION").Pair(2, "TABLES").Pair(0, "TABLE").Pair(2, "LAYER").Pair(70, $"{Layers.Length}");
        foreach (string layer in Layers)
            dxf.Pair(0, "LAYER").Pair(2, layer).Pair(70, "0").Pair(62, "7").Pair(6, "CONTINUOUS");
        dxf.Pair(0, "ENDTAB").Pair(0, "ENDSEC");
    }

    private static void Hole(DxfText dxf, PanelHole hole)
    {
        double r = hole.Diameter / 2;
        if (hole.Travel == 0)
        {
            dxf.Circle("HOLES", hole.Middle, r);
            return;
        }
        dxf.Arc("HOLES", hole.From, r, 90, 270).Arc("HOLES", hole.To, r, 270, 90);
        foreach (double side in (double[])[-r, r])
            dxf.Line("HOLES", hole.From with { Y = hole.From.Y + side }, hole.To with { Y = hole.To.Y + side });
    }

    private static void Shape(DxfText dxf, PanelShape shape)
    {
        string layer = shape.Layer switch { ShapeLayer.Nut => "NUTS", ShapeLayer.Knob => "KNOBS", _ => "BODIES" };
        (double x, double y, double w, double h) = (shape.Middle.X, shape.Middle.Y, shape.Width / 2, shape.Height / 2);
        if (shape.Height == 0)
            dxf.Circle(layer, shape.Middle, w);
        else
            dxf.Polyline(layer, 0, [new(x - w, y - h), new(x + w, y - h), new(x + w, y + h), new(x - w, y + h), new(x - w, y - h)]);
    }

    /// <summary>Group codes and values, one a line.</summary>
    private sealed class DxfText
    {
        private readonly StringBuilder text = new();

        public DxfText Pair(int code, string value)
        {
            text.Append(CultureInfo.InvariantCulture, $"{code,3}\n{Plain(value)}\n");
            return this;
        }

        // Release 12 knows no letters beyond ASCII: they are written as \U+ and four digits.
        private static string Plain(string value) =>
            string.Concat(value.Select(c => c < ' ' ? " " : c < 127 ? c.ToString() : string.Create(CultureInfo.InvariantCulture, $"\\U+{(int)c:X4}")));

        public DxfText Point(int code, Spot spot) => Number(code, spot.X).Number(code + 10, spot.Y);

        public DxfText Line(string layer, Spot from, Spot to) => Pair(0, "LINE").Pair(8, layer).Point(10, from).Point(11, to);

        public DxfText Circle(string layer, Spot middle, double radius) => Pair(0, "CIRCLE").Pair(8, layer).Point(10, middle).Number(40, radius);

        public DxfText Arc(string layer, Spot middle, double radius, double from, double to) =>
            Pair(0, "ARC").Pair(8, layer).Point(10, middle).Number(40, radius).Number(50, from).Number(51, to);

        public DxfText Polyline(string layer, double width, IEnumerable<Spot> points)
        {
            Pair(0, "POLYLINE").Pair(8, layer).Pair(66, "1").Point(10, default);
            if (width > 0)
                Number(40, width).Number(41, width);
            foreach (Spot point in points)
                Pair(0, "VERTEX").Pair(8, layer).Point(10, point);
            return Pair(0, "SEQEND").Pair(8, layer);
        }

        public override string ToString() => text.ToString();

        private DxfText Number(int code, double value) => Pair(code, value.ToString("0.0###", CultureInfo.InvariantCulture));
    }
}
