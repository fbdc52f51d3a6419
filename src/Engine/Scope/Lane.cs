namespace Consort.Engine.Scope;

/// <summary>The strip of the picture that a trace has to itself.</summary>
/// <param name="VoltsPerDivision">Its scale.</param>
/// <param name="Centre">Voltage in its middle: 0 V, unless the trace moves by little about something else.</param>
public readonly record struct Lane(double VoltsPerDivision, double Centre)
{
    /// <summary>Divisions from its middle to its edge.</summary>
    public const int HalfDivisions = 3;

    /// <summary>The finest lane of 1, 2, 5 volts per division that holds a trace, or the one of a scale that is asked for.</summary>
    public static Lane Holding(double lowest, double highest, double? asked)
    {
        double reach = Math.Max(Math.Abs(lowest), Math.Abs(highest));
        double half = 0.5 * (highest - lowest);
        bool aboutZero = half > 0.1 * reach || reach < 1e-6;
        double scale = asked ?? Divisions.AtLeast(Math.Max(1e-6, aboutZero ? reach : half) / HalfDivisions);
        return new(scale, aboutZero ? 0 : scale * Math.Round((lowest + half) / scale));
    }
}
