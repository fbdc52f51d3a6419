using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>What stands where on a panel. All lengths in m, x from the left edge, y from the top edge, seen from the
/// front.</summary>
/// <param name="Width">Of the sheet itself: panels of n HP are made narrower than n·5.08 mm, so that neighbours do not jam.</param>
/// <param name="Height">Of the sheet itself: 128.5 mm for 3 U.</param>
/// <param name="IsRackPanel">True when its height was written in U: it hangs on two rails.</param>
/// <param name="Grid">Places are multiples of it; 0 for any place.</param>
/// <param name="Text">Height of legends (capitals).</param>
/// <param name="Title">Printed at the top; empty for none.</param>
/// <param name="RailClearance">Strip at the upper and lower edge that must stay free behind the panel.</param>
/// <param name="Mounting">Holes or slots by which it is fastened.</param>
/// <param name="Board">The circuit board behind it, when it stands parallel to the panel; else null.</param>
/// <param name="Places">Its parts.</param>
/// <param name="At">Where the panel stands in the file.</param>
public sealed record PanelLayout(
    double Width,
    double Height,
    bool IsRackPanel,
    double Grid,
    double Text,
    string Title,
    double RailClearance,
    ImmutableArray<MountingSlot> Mounting,
    BoardBehind? Board,
    ImmutableArray<PanelPlace> Places,
    SourceSpan At
);

/// <summary>One fastening slot: a round hole when its length is 0.</summary>
/// <param name="X">Of its middle, m.</param>
/// <param name="Y">Of its middle, m.</param>
/// <param name="Diameter">Width of the slot, m.</param>
/// <param name="Travel">From end to end of its middle line, along the width, m.</param>
public readonly record struct MountingSlot(double X, double Y, double Diameter, double Travel);

/// <summary>A board parallel to the panel.</summary>
/// <param name="Behind">From the panel's back to the board's face, m.</param>
/// <param name="Tall">Tallest thing on the board's far side, plugs included, m.</param>
public sealed record BoardBehind(double Behind, double Tall);

/// <summary>One part on the panel.</summary>
/// <param name="Part">Its designator.</param>
/// <param name="Kind">Its kind's word.</param>
/// <param name="IsOutput">True for an output jack.</param>
/// <param name="X">m.</param>
/// <param name="Y">m.</param>
/// <param name="Fitting">Its mechanical form.</param>
/// <param name="Legend">Printed beside it; empty for none.</param>
/// <param name="Side">Where the legend stands.</param>
/// <param name="Marks">Printed around a switch, one for each way; empty for none.</param>
/// <param name="At">Where it stands in the file.</param>
public sealed record PanelPlace(
    string Part,
    string Kind,
    bool IsOutput,
    double X,
    double Y,
    Fitting Fitting,
    string Legend,
    LegendSide Side,
    ImmutableArray<string> Marks,
    SourceSpan At
);

/// <summary>Where a legend stands.</summary>
public enum LegendSide
{
    /// <summary>Over the part: a cord or a hand hangs below it.</summary>
    Above,
    /// <summary>Under it.</summary>
    Below,
    /// <summary>To its left.</summary>
    Left,
    /// <summary>To its right.</summary>
    Right,
}

/// <summary>The mechanical form of a panel part. Lengths in m.</summary>
/// <param name="Word">Its name in the file.</param>
/// <param name="Hole">Diameter of the panel hole.</param>
/// <param name="Nut">Across the corners of nut or washer; 0 without.</param>
/// <param name="Knob">Diameter of the knob; 0 without.</param>
/// <param name="Hand">Diameter of the circle that fingers or a plug need around the middle.</param>
/// <param name="BodyWidth">Behind the panel, along the width.</param>
/// <param name="BodyHeight">Behind the panel, along the height.</param>
/// <param name="Depth">From the panel's back to where it stands on the board, or to its end when it is wired.</param>
public sealed record Fitting(string Word, double Hole, double Nut, double Knob, double Hand, double BodyWidth, double BodyHeight, double Depth)
{
    /// <summary>The widest solid thing in front of the panel.</summary>
    public double Solid => Math.Max(Hole, Math.Max(Nut, Knob));
}
