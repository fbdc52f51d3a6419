namespace Consort.Engine.Circuit.Wiring;

/// <summary>What a contact of 2.54 mm pitch may carry, A. A socket of two rows: 3 A (Würth 613 0xx 218 21, 20 mΩ at most).
/// A crimped contact by the gauge of its wire, one circuit alone and 30 K of rise (Molex PS-171856-0001, from memory).
/// Many loaded contacts side by side carry less: the sheet's derating stands above these figures.</summary>
public static class ContactRating
{
    /// <summary>Of a header's or power connector's socket, A.</summary>
    public const double Socket = 3;

    private static readonly (double Gauge, double Amps)[] Crimped = [(22, 4), (24, 3.75), (26, 3.5), (28, 3)];

    /// <summary>Of a crimped contact, by American wire gauge: the next thinner wire that the sheet names. Below 28 the
    /// sheet names none: the copper's area then gives the share of what 28 may carry.</summary>
    public static double OfCrimp(double gauge)
    {
        foreach ((double named, double amps) in Crimped)
            if (gauge <= named)
                return amps;
        double thinner = Copper.Diameter(gauge) / Copper.Diameter(Crimped[^1].Gauge);
        return Crimped[^1].Amps * thinner * thinner;
    }
}
