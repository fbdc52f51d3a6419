using System.Collections.Immutable;
using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Where a panel is fastened: on rack rails after IEC 60297-3-101, or by a hole in each corner.</summary>
internal sealed class Mounting
{
    private const double Mm = 1e-3;
    private const double Pitch = 5.08 * Mm;
    private const int WideFrom = 10; // HP; narrower panels have one pair of slots (common practice)

    private readonly bool onRails;
    private readonly double diameter;
    private readonly double travel;
    private readonly double fromSide;
    private readonly double fromEdge;

    /// <summary>Reads it.</summary>
    /// <param name="map">The panel's <c>mounting</c>; null when it says nothing.</param>
    /// <param name="isRack">True for a height in U.</param>
    /// <param name="isPitched">True for a width in HP.</param>
    public Mounting(MapReader? map, bool isRack, bool isPitched)
    {
        onRails = isRack && isPitched;
        diameter = map?.InRange("hole", Dimension.Length, 3.2 * Mm, 1 * Mm, 20 * Mm) ?? 3.2 * Mm; // for M3
        travel = map?.InRange("travel", Dimension.Length, onRails ? 2 * Mm : 0, 0, 20 * Mm) ?? (onRails ? 2 * Mm : 0);
        fromSide = map?.InRange("from side", Dimension.Length, onRails ? 7.5 * Mm : 4 * Mm, 1 * Mm, 50 * Mm) ?? (onRails ? 7.5 * Mm : 4 * Mm);
        fromEdge = map?.InRange("from edge", Dimension.Length, isRack ? 3 * Mm : 4 * Mm, 1 * Mm, 50 * Mm) ?? (isRack ? 3 * Mm : 4 * Mm);
        map?.RefuseTheRest();
    }

    /// <summary>The slots of a panel of that gross width and that sheet.</summary>
    public ImmutableArray<MountingSlot> Slots(double gross, double width, double height) =>
        [.. Columns(gross, width).SelectMany(x => (MountingSlot[])[new(x, fromEdge, diameter, travel), new(x, height - fromEdge, diameter, travel)])];

    private double[] Columns(double gross, double width)
    {
        int steps = (int)Math.Round(gross / Pitch);
        if (!onRails)
            return width > 4 * fromSide ? [fromSide, width - fromSide] : [width / 2];
        if (width < 2 * fromSide)
            return [width / 2];
        return steps < WideFrom ? [fromSide] : [fromSide, fromSide + ((steps - 3) * Pitch)]; // rail holes stand every 5.08 mm
    }
}
