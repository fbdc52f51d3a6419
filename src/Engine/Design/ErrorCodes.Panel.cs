namespace Consort.Engine.Design;

// C080 to C099: panels. Those from C085 on are told by the verb that draws them.
public static partial class ErrorCodes
{
#pragma warning disable CS1591 // each entry says what it is
    public static readonly ErrorCode PlaceOfNothing = new("C080", "a place on the panel for a part that is none or stands on no panel",
        "Jacks, potentiometers, selectors and trimmers have places, by their designators.");
    public static readonly ErrorCode NoPlace = new("C081", "a control or jack without a place on a panel that has places",
        "Once one part has a place, every jack, potentiometer and selector needs one. Trimmers may stay behind the panel.");
    public static readonly ErrorCode PlaceOutside = new("C082", "a place outside the panel",
        "Places count from the left and the upper edge of the sheet, seen from the front.");
    public static readonly ErrorCode UnknownFitting = new("C083", "a panel part's form that is not known",
        "The usual forms are listed in docs/panels.md; a panel states others under 'fittings'.");
    public static readonly ErrorCode NoLayout = new("C084", "a panel without places", "There is nothing to draw: give the panel's parts places.");
    public static readonly ErrorCode Collide = new("C085", "two panel parts in one place",
        "Nuts, washers or knobs touch in front of the panel, or bodies behind it.");
    public static readonly ErrorCode FingerRoom = new("C086", "a control that fingers or a plug do not reach",
        "Another knob, nut or plug stands within the room that the hand needs.");
    public static readonly ErrorCode NearEdge = new("C087", "a part too near the panel's edge",
        "The sheet breaks between hole and edge, or the part sticks out over it and into the neighbour.");
    public static readonly ErrorCode InRail = new("C088", "a part behind the panel where the rail or a screw is",
        "The strip at the upper and lower edge belongs to the rails, the slots to the screws and their washers.");
    public static readonly ErrorCode DeeperThanSpace = new("C089", "a part or board that is deeper than the space for it",
        "Between panel and board, or between panel and the depth that the module states.");
    public static readonly ErrorCode OffGrid = new("C090", "a hole off the panel's grid", "The panel states a grid: places are multiples of it.");
    public static readonly ErrorCode LegendHidden = new("C091", "a legend that cannot be read or printed",
        "It lies under a knob, nut or plug, in a hole, over another legend or over the edge.");
    public static readonly ErrorCode LegendSmall = new("C092", "a legend too small to read or to print",
        "Below 1.5 mm fabricators' legends fill in; 2 mm is read at arm's length (common practice).");
    public static readonly ErrorCode NoSuchLetter = new("C093", "a letter that the panel's alphabet does not have",
        "Legends are drawn in strokes: Latin letters, figures and the usual signs.");
    public static readonly ErrorCode Unreachable = new("C094", "a trimmer that cannot be reached while the module plays", "Told as a note.");
#pragma warning restore CS1591
}
