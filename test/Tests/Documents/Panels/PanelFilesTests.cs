using System.Collections.Immutable;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Documents.Panels;
using Consort.Tests.Documents.Exchange;
using UglyToad.PdfPig;
using Xunit;

namespace Consort.Tests.Documents.Panels;

public sealed class PanelFilesTests
{
    private const double Micrometre = 1e-3; // what all formats are written to, mm

    public static TheoryData<string> Examples() => ["quartet", "pair", "patched", "shoestring"];

    [Fact]
    public void The_formats_smallest_example_reads_as_its_specification_says()
    {
        // checks J3: Gerber Layer Format Specification 2022.02, sections 2 and 4.
        GerberReader gerber = GerberReader.Read("G04 one flash*\n%FSLAX46Y46*%\n%MOMM*%\n%ADD10C,0.5*%\nD10*\nX10160000Y12700000D03*\nM02*\n");
        Assert.Equal((10.16, 12.70, 0.5, "", false), Assert.Single(gerber.Flashes));
        // checks J4: XNC Format Specification, from memory.
        XncReader xnc = XncReader.Read("M48\nMETRIC\nT01C1.000\n%\nG05\nT01\nX10.160Y12.700\nM30\n");
        Assert.Equal((10.16, 12.70, 1.0), Assert.Single(xnc.Holes));
    }

    [Theory]
    [InlineData("%FSLAX46Y46*%\n%MOMM*%\n%ADD10C,0.5*%\nD10*\nX1Y1D03*\n", "M02 is missing")]
    [InlineData("%FSLAX46Y46*%\n%MOMM*%\nD10*\nX1Y1D03*\nM02*\n", "used before it is defined")]
    [InlineData("%MOMM*%\n%ADD10C,0.5*%\nD10*\nX1Y1D03*\nM02*\n", "a coordinate before FS and MO")]
    [InlineData("%FSLAX46Y46*%\n%MOMM*%\n%ADD10C,0.5*%\nD10*\nX1Y1D02*\nX2Y2D01*\nM02*\n", "a draw before G01")]
    public void The_second_reader_refuses_what_the_format_forbids(string text, string why) =>
        Assert.Contains(why, Assert.Throws<FormatException>(() => GerberReader.Read(text)).Message, StringComparison.Ordinal);

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_hole_is_drilled_where_the_drawing_has_it(string example)
    {
        foreach (PanelDrawing panel in Panels(example))
        {
            XncReader xnc = XncReader.Read(File(panel, "holes.xnc"));
            Assert.Equal(
                panel.Holes.Where(hole => hole.Travel == 0).Select(hole => (hole.Middle.X, hole.Middle.Y, hole.Diameter)).Order(),
                xnc.Holes.Order());
            Assert.Equal(panel.Holes.Count(hole => hole.Travel > 0), xnc.Slots.Count);
            foreach (PanelHole slot in panel.Holes.Where(hole => hole.Travel > 0))
                Assert.Contains(xnc.Slots, cut => Near(cut.X1, slot.Middle.X - (slot.Travel / 2)) && Near(cut.X2, slot.Middle.X + (slot.Travel / 2))
                    && Near(cut.Y1, slot.Middle.Y) && Near(cut.Y2, slot.Middle.Y) && cut.Diameter == slot.Diameter);
            Assert.Contains("#@! TF.FileFunction,NonPlated,1,2,NPTH", xnc.Comments);
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_stroke_of_a_legend_is_drawn_and_the_profile_is_the_sheet(string example)
    {
        foreach (PanelDrawing panel in Panels(example))
        {
            GerberReader legend = GerberReader.Read(File(panel, "legend-top.gbr"));
            Assert.Equal("Legend,Top", legend.File["FileFunction"]);
            var wanted = panel.Legend.SelectMany(stroke => stroke.Points.Zip(stroke.Points.Skip(1), (a, b) => (a, b, stroke.Width))).ToArray();
            Assert.Equal(wanted.Length, legend.Draws.Count);
            foreach (((Spot from, Spot to, double width), var draw) in wanted.Zip(legend.Draws))
            {
                Assert.Equal(width, draw.Diameter);
                Assert.True(Near(from.X, draw.X1) && Near(from.Y, draw.Y1) && Near(to.X, draw.X2) && Near(to.Y, draw.Y2));
            }
            GerberReader profile = GerberReader.Read(File(panel, "profile.gbr"));
            Assert.Equal("Profile,NP", profile.File["FileFunction"]);
            Assert.All(profile.Draws, draw => Assert.Equal("Profile", draw.Use));
            Assert.Equal((0, 0, panel.Width, panel.Height), (profile.Draws.Min(d => d.X1), profile.Draws.Min(d => d.Y1), profile.Draws.Max(d => d.X1), profile.Draws.Max(d => d.Y1)));
            Assert.Equal((profile.Draws[0].X1, profile.Draws[0].Y1), (profile.Draws[^1].X2, profile.Draws[^1].Y2)); // closed
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Copper_keeps_half_a_millimetre_from_every_hole_and_edge_and_a_free_panel_has_none(string example)
    {
        foreach (PanelDrawing panel in Panels(example))
        {
            GerberReader free = GerberReader.Read(File(panel, "copper-top.gbr"));
            Assert.Empty(free.Flashes);
            Assert.Empty(free.Draws);
            Assert.Empty(free.Regions);
            GerberReader copper = GerberReader.Read(File(panel, "copper-bottom.gbr", filled: true));
            Assert.Equal("Copper,L2,Bot", copper.File["FileFunction"]);
            (double X, double Y)[] pour = Assert.Single(copper.Regions);
            Assert.All(pour, corner => Assert.True(Near(0.5, Math.Min(corner.X, panel.Width - corner.X)) && Near(0.5, Math.Min(corner.Y, panel.Height - corner.Y))));
            foreach (PanelHole hole in panel.Holes)
                Assert.True(hole.Travel > 0
                    ? copper.Draws.Any(cut => cut.Clears && Near(cut.Y1, hole.Middle.Y) && Near(cut.X1, hole.Middle.X - (hole.Travel / 2)) && Near(cut.Diameter, hole.Diameter + 1))
                    : copper.Flashes.Any(cut => cut.Clears && Near(cut.X, hole.Middle.X) && Near(cut.Y, hole.Middle.Y) && Near(cut.Diameter, hole.Diameter + 1)));
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void A_solder_mask_shows_its_openings_at_every_hole(string example)
    {
        foreach (PanelDrawing panel in Panels(example))
            foreach (string side in (string[])["top", "bottom"])
            {
                GerberReader mask = GerberReader.Read(File(panel, $"mask-{side}.gbr"));
                Assert.Equal("Negative", mask.File["FilePolarity"]); // section 5.6: a mask's image is of what is not there
                Assert.Equal(panel.Holes.Length, mask.Flashes.Count + mask.Draws.Count);
            }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void A_dxf_holds_sheet_holes_legend_and_helping_shapes_by_layer(string example)
    {
        foreach (PanelDrawing panel in Panels(example))
        {
            DxfReader dxf = DxfReader.Read(DxfPanel.Write(panel));
            Assert.Equal(("AC1009", "4"), (dxf.Header["$ACADVER"], dxf.Header["$INSUNITS"]));
            Assert.Equal(["OUTLINE", "HOLES", "LEGEND", "NUTS", "KNOBS", "BODIES"], dxf.Layers);
            Assert.Equal(panel.Width, dxf.Polylines.Single(line => line.Layer == "OUTLINE").Points.Max(point => point.X), Micrometre);
            Assert.Equal(panel.Height, dxf.Polylines.Single(line => line.Layer == "OUTLINE").Points.Max(point => point.Y), Micrometre);
            foreach (PanelHole hole in panel.Holes.Where(hole => hole.Travel == 0))
                Assert.Single(dxf.Circles, circle => circle.Layer == "HOLES" && Near(circle.X, hole.Middle.X) && Near(circle.Y, hole.Middle.Y) && Near(2 * circle.Radius, hole.Diameter));
            Assert.Equal(2 * panel.Holes.Count(hole => hole.Travel > 0), dxf.Arcs.Count);
            Assert.All(dxf.Arcs, arc => Assert.Equal(180, (arc.To - arc.From + 360) % 360, 1e-9));
            Assert.Equal(panel.Legend.Length, dxf.Polylines.Count(line => line.Layer == "LEGEND"));
            Assert.Equal(panel.Shapes.Count(shape => shape.Layer == ShapeLayer.Knob), dxf.Circles.Count(circle => circle.Layer == "KNOBS"));
        }
    }

    [Fact]
    public void A_drawing_on_paper_is_at_scale_and_names_every_hole()
    {
        ImmutableArray<PanelDrawing> panels = Panels("pair");
        using PdfDocument document = PdfDocument.Open(PdfPanel.Write(panels, "pair"));
        Assert.Equal(panels.Length, document.NumberOfPages);
        for (int i = 0; i < panels.Length; i++)
        {
            string text = string.Join(' ', document.GetPage(i + 1).GetWords().Select(word => word.Text));
            Assert.All(panels[i].Holes, hole => Assert.Contains(hole.Name, text, StringComparison.Ordinal));
            Assert.Contains("scale 1:1", text, StringComparison.Ordinal);
            // The largest closed shape is the sheet; 72 points are an inch.
            var sheet = document.GetPage(i + 1).Paths.Select(path => path.GetBoundingRectangle()).OfType<UglyToad.PdfPig.Core.PdfRectangle>().MaxBy(box => box.Width * box.Height);
            Assert.Equal(panels[i].Width, sheet.Width / 72 * 25.4, 0.01);
            Assert.Equal(panels[i].Height, sheet.Height / 72 * 25.4, 0.01);
        }
    }

    [Fact]
    public void All_files_are_the_same_to_the_byte()
    {
        PanelSet set = Set("quartet");
        ImmutableArray<(string Name, byte[] Content)> first = PanelFiles.Of(set, "quartet", filled: true), second = PanelFiles.Of(Set("quartet"), "quartet", filled: true);
        Assert.Equal(19, first.Length);
        foreach (((string name, byte[] one), (_, byte[] other)) in first.Zip(second))
            Assert.True(one.AsSpan().SequenceEqual(other), name);
    }

    internal static PanelSet Set(string example) =>
        PanelSet.Of(VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example)).Voice!, _ => null);

    private static ImmutableArray<PanelDrawing> Panels(string example) => [.. Set(example).Panels.Select(panel => panel.Drawing)];

    private static string File(PanelDrawing panel, string end, bool filled = false) =>
        FabricationFiles.Of(panel, filled).Single(file => file.Name == $"{panel.File}-{end}").Content;

    private static bool Near(double a, double b) => Math.Abs(a - b) < Micrometre;
}
