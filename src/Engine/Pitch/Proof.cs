using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Pitch;

/// <summary>What was found out about a voice: the one record that a verb prints, a screen shows and a report holds.
/// Cents are 1200 to the octave, positive is sharp; temperatures are in kelvin.</summary>
/// <param name="Voice">The voice's name.</param>
/// <param name="About">Its paragraph for people.</param>
/// <param name="Limits">What its maker asks.</param>
/// <param name="Claims">The verdict, one claim for each thing asked.</param>
/// <param name="Tracking">Every oscillator at every temperature, the reference temperature first.</param>
/// <param name="Temperature">How far each oscillator moves with temperature.</param>
/// <param name="Budgets">The tracking error of each oscillator by cause and part, at the reference temperature.</param>
/// <param name="Chain">Followers on the lead; null when the voice has no link.</param>
/// <param name="Trims">Where each trimmer came to stand.</param>
/// <param name="Accuracy">How good the figures are, each from a comparison that was run.</param>
/// <param name="Notes">Other things that a maker should know.</param>
/// <param name="NotModelled">What was left out, one sentence each.</param>
/// <param name="Seconds">Time that it took, s; null where a result must not depend on the clock.</param>
public sealed record Proof(
    string Voice,
    string About,
    Limits Limits,
    ImmutableArray<Claim> Claims,
    ImmutableArray<TrackingCurve> Tracking,
    ImmutableArray<TemperatureShift> Temperature,
    ImmutableArray<Budget> Budgets,
    ChainStudy? Chain,
    ImmutableArray<TrimResult> Trims,
    ImmutableArray<AccuracyNote> Accuracy,
    ImmutableArray<string> Notes,
    ImmutableArray<string> NotModelled,
    double? Seconds = null
)
{
    /// <summary>True when every claim passes.</summary>
    public bool Passed => Claims.All(claim => claim.Passed);

    /// <summary>What trimmed builds do; null when none were made.</summary>
    public SpreadResult? Spread { get; init; }

    /// <summary>The build that all of this is of; null for the design itself.</summary>
    public long? Build { get; init; }
}

/// <summary>One thing that the maker asks, and what came of it.</summary>
/// <param name="Key">Short word for <c>--why</c>, unique in a proof: <c>tracking</c>, <c>drift</c>, <c>chain</c>.</param>
/// <param name="Title">In words: <c>Worst tracking error, 1 V to 6 V, trimmed, 25 °C</c>.</param>
/// <param name="Figure">What was found.</param>
/// <param name="Limit">What is asked.</param>
/// <param name="Sense">Whether the figure must stay below the limit or reach it.</param>
/// <param name="Unit">Of figure and limit: <c>cents</c>, <c>followers</c>, <c>%</c>.</param>
/// <param name="Passed">True when the limit is met.</param>
/// <param name="Cause">The main reason for the figure in a few words, with part and parameter.</param>
/// <param name="Mend">What would mend a miss; null when it passes or nothing is known.</param>
/// <param name="Why">The chain from the figure down to parts.</param>
public sealed record Claim(
    string Key,
    string Title,
    double Figure,
    double Limit,
    LimitSense Sense,
    string Unit,
    bool Passed,
    string Cause,
    string? Mend,
    Reason Why
);

/// <summary>On which side of its limit a figure must stand.</summary>
public enum LimitSense
{
    /// <summary>The figure must not exceed the limit.</summary>
    AtMost,

    /// <summary>The figure must reach the limit.</summary>
    AtLeast,
}

/// <summary>One step of the chain from a figure to the parts behind it. A leaf that stands for a part says which one,
/// which parameter, its value, and how much the figure moves with it.</summary>
/// <param name="Text">In words.</param>
/// <param name="Value">Its share or value; null when the words say all.</param>
/// <param name="Unit">Of the value; null for a plain number.</param>
/// <param name="Part">The part, for a leaf that stands for one.</param>
/// <param name="Children">What it is made of, largest first; empty for a leaf.</param>
public sealed record Reason(string Text, double? Value, string? Unit, PartReason? Part, ImmutableArray<Reason> Children);

/// <summary>A part's parameter behind a figure.</summary>
/// <param name="Part">Designator: <c>lead/R3</c>.</param>
/// <param name="Parameter">Its word in the file: <c>value</c>, <c>offset</c>.</param>
/// <param name="Value">In SI units.</param>
/// <param name="Unit">SI unit of the value, empty for a ratio.</param>
/// <param name="Sensitivity">How far the figure moves, in its own unit, for one <paramref name="SensitivityPer"/>.</param>
/// <param name="SensitivityPer">The step, in words: <c>1 %</c>, <c>1 mV</c>, <c>1 kΩ</c>.</param>
public sealed record PartReason(
    string Part,
    string Parameter,
    double Value,
    string Unit,
    double Sensitivity,
    string SensitivityPer
);

/// <summary>One oscillator's pitch over the keyboard at one temperature.</summary>
/// <param name="Oscillator">The member's name in the voice.</param>
/// <param name="Kelvin">Temperature, K.</param>
/// <param name="Points">From low to high.</param>
public sealed record TrackingCurve(string Oscillator, double Kelvin, ImmutableArray<TrackingPoint> Points);

/// <summary>One reading.</summary>
/// <param name="ControlVolts">The keyboard's voltage, V.</param>
/// <param name="IdealHertz">Where it should be, Hz, its interval from the voice included.</param>
/// <param name="MeasuredHertz">Where it is, Hz; NaN when it does not oscillate there.</param>
/// <param name="Cents">Error against the ideal; NaN when it does not oscillate.</param>
public readonly record struct TrackingPoint(double ControlVolts, double IdealHertz, double MeasuredHertz, double Cents);

/// <summary>How far an oscillator moves from the reference temperature to another.</summary>
/// <param name="Oscillator">The member's name.</param>
/// <param name="Kelvin">The other temperature, K.</param>
/// <param name="WorstCents">Largest move of any note, signed, cents.</param>
/// <param name="AtControlVolts">Control voltage of that note, V.</param>
/// <param name="CentsPerKelvin">That move per kelvin.</param>
/// <param name="CentsPerOctave">Change of scale, cents per octave.</param>
/// <param name="Cause">The main reason in a few words.</param>
public sealed record TemperatureShift(
    string Oscillator,
    double Kelvin,
    double WorstCents,
    double AtControlVolts,
    double CentsPerKelvin,
    double CentsPerOctave,
    string Cause
);

/// <summary>Where one oscillator's tracking error comes from.</summary>
/// <param name="Oscillator">The member's name.</param>
/// <param name="ControlVolts">The octaves at which each line is read, V.</param>
/// <param name="Lines">Largest share first.</param>
/// <param name="UnexplainedCents">At each octave: the error less the sum of all lines.</param>
public sealed record Budget(
    string Oscillator,
    ImmutableArray<double> ControlVolts,
    ImmutableArray<BudgetLine> Lines,
    ImmutableArray<double> UnexplainedCents
)
{
    /// <summary>What each part would add when it stands at the limit of its tolerance, after trimming; not part of the
    /// nominal error. Largest first.</summary>
    public ImmutableArray<BudgetLine> Spread { get; init; } = [];

    /// <summary>Which of <see cref="ControlVolts"/> lies nearest to a voltage; the lower of two that lie alike.</summary>
    public int NoteNearest(double volts)
    {
        int best = 0;
        for (int i = 1; i < ControlVolts.Length; i++)
            if (Math.Abs(ControlVolts[i] - volts) < Math.Abs(ControlVolts[best] - volts))
                best = i;
        return best;
    }
}

/// <summary>One part's share of a tracking error.</summary>
/// <param name="Cause">The column that it belongs to.</param>
/// <param name="Part">Designator.</param>
/// <param name="Parameter">Its word in the file.</param>
/// <param name="Value">In SI units.</param>
/// <param name="Unit">SI unit of the value, empty for a ratio.</param>
/// <param name="Cents">What the departure from the ideal adds at each of the budget's octaves, after trimming.</param>
/// <param name="Share">Its part of the whole, 0 to 1: largest magnitude over the sum of all lines' largest magnitudes.</param>
public sealed record BudgetLine(
    Cause Cause,
    string Part,
    string Parameter,
    double Value,
    string Unit,
    ImmutableArray<double> Cents,
    double Share
);

/// <summary>How many followers a lead can carry.</summary>
/// <param name="Lead">The lead's name.</param>
/// <param name="Points">From no follower upwards.</param>
/// <param name="Largest">Largest number for which it and all smaller ones pass; -1 when not even none passes.</param>
/// <param name="FirstFailure">What fails first above that; null when all points pass.</param>
/// <param name="Mend">What would carry more; null when nothing is known.</param>
public sealed record ChainStudy(
    string Lead,
    ImmutableArray<ChainPoint> Points,
    int Largest,
    string? FirstFailure,
    string? Mend
);

/// <summary>The link with a number of followers on it.</summary>
/// <param name="Followers">How many.</param>
/// <param name="WorstCents">Largest pitch error of any follower against the lead, cents; 0 with no follower.</param>
/// <param name="WorstFollower">Which one; empty with no follower.</param>
/// <param name="DriveLeftAmps">Least current that a link buffer has left, A; negative when it is overloaded,
/// infinite when nothing hangs on any.</param>
/// <param name="PeakingDb">Peaking of the worst link buffer into the ribbon, dB; infinity when it is unstable.</param>
/// <param name="GroundOffsetVolts">Largest offset between the lead's and a follower's 0 V, V.</param>
/// <param name="RailDropVolts">Largest drop of a rail at a follower, V.</param>
/// <param name="Passed">True when all limits are met.</param>
/// <param name="FirstFailure">What is missed, in words; null when it passes.</param>
public sealed record ChainPoint(
    int Followers,
    double WorstCents,
    string WorstFollower,
    double DriveLeftAmps,
    double PeakingDb,
    double GroundOffsetVolts,
    double RailDropVolts,
    bool Passed,
    string? FirstFailure
);

/// <summary>Where a trimmer came to stand.</summary>
/// <param name="Oscillator">The member's name.</param>
/// <param name="Trimmer">Designator, without the member's name.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="Position">0 (counter-clockwise end) to 1.</param>
/// <param name="RangeUsed">Distance from the middle over half the travel, 0 to 1; 1 is at an end.</param>
/// <param name="CentsPerTurn">What one turn does at the voltage where it is set, cents; for tracking, cents per octave.</param>
/// <param name="Reached">False when it came to an end before the pitch was right.</param>
public sealed record TrimResult(
    string Oscillator,
    string Trimmer,
    TrimPurpose Purpose,
    double Position,
    double RangeUsed,
    double CentsPerTurn,
    bool Reached
);

/// <summary>How good a figure is: the outcome of a comparison that was run.</summary>
/// <param name="What">The approximation or the figure.</param>
/// <param name="Figure">Largest disagreement found.</param>
/// <param name="Unit">Of the figure.</param>
/// <param name="Against">What it was compared with.</param>
public sealed record AccuracyNote(string What, double Figure, string Unit, string Against);

/// <summary>Why nothing could be proved: a solver's failure as a value.</summary>
/// <param name="What">In one line, with node, time and residual where there are any.</param>
/// <param name="Mend">What to try.</param>
public sealed record Unproved(string What, string Mend);
