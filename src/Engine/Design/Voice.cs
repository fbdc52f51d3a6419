using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Several oscillators that play as one, with what plays them, wiring and supply: <c>voice.yaml</c> with the
/// modules it names.</summary>
/// <param name="Name">Its name.</param>
/// <param name="About">One paragraph for people.</param>
/// <param name="Members">The modules in it, by name, in panel order.</param>
/// <param name="Players">What plays it: sources of control voltages, by name.</param>
/// <param name="Multiples">Multiples, by name.</param>
/// <param name="Cords">Patch cords.</param>
/// <param name="Ribbons">Links behind the panel.</param>
/// <param name="Supply">Rails and their wiring.</param>
/// <param name="Limits">What the maker asks of it.</param>
public sealed record Voice(
    string Name,
    string About,
    ImmutableArray<Member> Members,
    ImmutableArray<Player> Players,
    ImmutableArray<Multiple> Multiples,
    ImmutableArray<Cord> Cords,
    ImmutableArray<Ribbon> Ribbons,
    Supply Supply,
    Limits Limits
)
{
    /// <summary>What the maker wants of its wiring, for plans; null when the file says nothing of it.</summary>
    public VoicePlan? Plan { get; init; }

    /// <summary>Volts to the octave of its first oscillator; 1 where it has none.</summary>
    public double VoltsPerOctave => Members.Select(member => member.Module.Pitch?.VoltsPerOctave).FirstOrDefault(volts => volts is not null) ?? 1;

    /// <summary>True for a member from which a ribbon leads to others.</summary>
    public bool IsLead(string member) => Ribbons.Any(ribbon => ribbon.From.Owner == member);

    /// <summary>True for a member to which a ribbon leads.</summary>
    public bool IsFollower(string member) => RibbonTo(member) is not null;

    /// <summary>The first ribbon that leads to a member; null for none.</summary>
    public Ribbon? RibbonTo(string member) => Ribbons.FirstOrDefault(ribbon => ribbon.To.Any(to => to.Owner == member));

    /// <summary>The member that one follows: the first of the ribbons that lead to it; null for one that no ribbon leads to.</summary>
    public string? LeadOf(string member) =>
        RibbonTo(member) is { } ribbon ? LeadOf(ribbon.From.Owner) ?? ribbon.From.Owner : null;

    /// <summary>The same voice without some members, their cords, and what of ribbons led to or from them.</summary>
    public Voice Without(IReadOnlySet<string> gone) =>
        this with
        {
            Members = [.. Members.Where(member => !gone.Contains(member.Name))],
            Cords = [.. Cords.Where(cord => !gone.Contains(cord.From.Owner) && !gone.Contains(cord.To.Owner))],
            Ribbons =
            [
                .. Ribbons.Where(ribbon => !gone.Contains(ribbon.From.Owner))
                    .Select(ribbon => ribbon with { To = [.. ribbon.To.Where(name => !gone.Contains(name.Owner))] })
                    .Where(ribbon => !ribbon.To.IsEmpty),
            ],
        };

    /// <summary>The same voice with another design for every member that is made of one.</summary>
    public Voice With(Module module, Module changed) =>
        this with
        {
            Members = [.. Members.Select(member => member.Module == module ? member with { Module = changed } : member)],
        };
}

/// <summary>Intentions: oscillators, and what is to reach them, whatever way it is wired.</summary>
/// <param name="Oscillators">Names, with the interval at which each stands, cents; empty: those of the voice.</param>
/// <param name="Wishes">What reaches them.</param>
/// <param name="Case">What they are to fit.</param>
public sealed record VoicePlan(ImmutableArray<PlannedOscillator> Oscillators, ImmutableArray<Wish> Wishes, RackCase Case);

/// <summary>The case that a voice goes into.</summary>
/// <param name="Row">Width of a row, m; 0 for one row of any width.</param>
/// <param name="Rows">Rows that it has; 0 for any number.</param>
/// <param name="Depth">From the panels' back to its bottom, m; 0 for any.</param>
/// <param name="Pins">Contacts side by side for each rail in a module's supply plug.</param>
/// <param name="PinAmps">What one of them may carry, A.</param>
public sealed record RackCase(double Row, int Rows, double Depth, int Pins, double PinAmps)
{
    /// <summary>Nothing is known of it; one contact a rail, rated as a socket of 2.54 mm pitch (Würth 613 0xx 218 21).</summary>
    public static RackCase Any { get; } = new(0, 0, 0, 1, 3);
}

/// <summary>An oscillator that is wanted.</summary>
public sealed record PlannedOscillator(string Name, double StandsCents);

/// <summary>One wish: what a player gives is to reach this input of these oscillators.</summary>
/// <param name="Player">The player.</param>
/// <param name="To">The input's label, as an oscillator with all its inputs has it.</param>
/// <param name="Oscillators">Whose.</param>
public sealed record Wish(string Player, string To, ImmutableArray<string> Oscillators);

/// <summary>A module's place in the voice.</summary>
/// <param name="Name">Its name in the voice: <c>lead</c>.</param>
/// <param name="Module">The design.</param>
/// <param name="StandsCents">Interval at which it is meant to stand against the voice's pitch, cents.</param>
/// <param name="Set">Controls moved from their written position: designator to position (0..1) or way.</param>
/// <param name="At">Where it stands.</param>
public sealed record Member(
    string Name,
    Module Module,
    double StandsCents,
    ImmutableDictionary<string, double> Set,
    SourceSpan At
);

/// <summary>A source of one control voltage: <c>keyboard: {plays: pitch, resistance: 1k, from: 0 V, to: 9 V}</c>.
/// Its only jack is named <c>keyboard/out</c>.</summary>
/// <param name="Name">Its name.</param>
/// <param name="IsPitch">True when it carries the keyboard's voltage in a tracking run.</param>
/// <param name="Resistance">Source resistance, ohm.</param>
/// <param name="Low">Lowest voltage, V.</param>
/// <param name="High">Highest voltage, V.</param>
/// <param name="At">Voltage at which it stands otherwise, V.</param>
public sealed record Player(string Name, bool IsPitch, double Resistance, double Low, double High, double At, SourceSpan Where);

/// <summary>A multiple: its jacks are <c>NAME/in</c> and <c>NAME/1</c> ... <c>NAME/n</c>.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Buffered">False: all jacks on one net. True: each output its own buffer.</param>
/// <param name="Ways">Number of outputs.</param>
/// <param name="Width">Panel width, m.</param>
/// <param name="OffsetWithin">Limit of a buffer's offset, V.</param>
/// <param name="OutputResistance">Of each buffer, ohm.</param>
/// <param name="InputResistance">Of the buffered input, ohm.</param>
public sealed record Multiple(
    string Name,
    bool Buffered,
    int Ways,
    double Width,
    double OffsetWithin,
    double OutputResistance,
    double InputResistance,
    SourceSpan At
);

/// <summary>A jack of the voice: <c>lead/pitch</c>.</summary>
public readonly record struct JackName(string Owner, string Label)
{
    /// <inheritdoc/>
    public override string ToString() => $"{Owner}/{Label}";
}

/// <summary>A patch cord.</summary>
public sealed record Cord(JackName From, JackName To, double Length, SourceSpan At);

/// <summary>A ribbon from a lead's header along the headers of its followers, in order.</summary>
/// <param name="From">The lead's header.</param>
/// <param name="To">The followers' headers.</param>
/// <param name="Length">From header to header, m.</param>
/// <param name="Gauge">American wire gauge.</param>
/// <param name="At">Where it stands.</param>
public sealed record Ribbon(JackName From, ImmutableArray<JackName> To, double Length, double Gauge, SourceSpan At);

/// <summary>The supply: rails by name (their net in every module), and the wiring between slots.</summary>
/// <param name="Rails">The rails.</param>
/// <param name="SlotResistance">Of a rail's wire from one module to the next, ohm.</param>
/// <param name="GroundSlotResistance">The same for 0 V, ohm.</param>
public sealed record Supply(ImmutableArray<Rail> Rails, double SlotResistance, double GroundSlotResistance);

/// <summary>One rail.</summary>
/// <param name="Name">Its name and net: <c>+12 V</c>.</param>
/// <param name="Voltage">V.</param>
/// <param name="SourceResistance">Of the supply, ohm.</param>
/// <param name="Tempco">Relative change per kelvin.</param>
/// <param name="Limit">Largest current, A.</param>
public sealed record Rail(string Name, double Voltage, double SourceResistance, double Tempco, double Limit);

/// <summary>What the maker asks.</summary>
/// <param name="TrackingCents">Largest pitch error over <paramref name="Octaves"/> when trimmed, cents.</param>
/// <param name="Octaves">Octaves over which it is asked.</param>
/// <param name="LowestVoltage">Control voltage where those octaves begin, V.</param>
/// <param name="DriftCents">Largest change of any note from 25 °C to either temperature, cents.</param>
/// <param name="ColdKelvin">Lower temperature, K.</param>
/// <param name="WarmKelvin">Upper temperature, K.</param>
/// <param name="FollowerCents">Largest pitch error of a follower against its lead, cents.</param>
/// <param name="Followers">Followers that the lead is asked to carry; null when the voice has no link.</param>
public sealed record Limits(
    double TrackingCents,
    double Octaves,
    double LowestVoltage,
    double DriftCents,
    double ColdKelvin,
    double WarmKelvin,
    double FollowerCents,
    int? Followers
)
{
    /// <summary>Share of trimmed builds that is asked to keep every limit, 0 to 1.</summary>
    public double Yield { get; init; } = 0.9;

    /// <summary>By how much resistors that make up for temperature are colder than the rest while a voice warms up, K.</summary>
    public double WarmUpGradient { get; init; } = 1;

    /// <summary>True for a control voltage within the octaves that are asked.</summary>
    /// <param name="volts">V.</param>
    /// <param name="octave">Volts to the octave.</param>
    public bool Asks(double volts, double octave) => volts >= LowestVoltage - 1e-9 && volts <= LowestVoltage + Octaves * octave + 1e-9;
}
