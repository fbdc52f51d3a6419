using System.Collections.Immutable;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Response;

/// <summary>What moves an oscillator from outside: a control turned by hand, or a voltage plugged into an input jack.</summary>
/// <param name="Owner">Member whose panel it is on: the oscillator's own, or its lead's.</param>
/// <param name="Part">The control's designator, or the jack's.</param>
/// <param name="Label">The net of the control's wiper, or what stands at the jack.</param>
/// <param name="IsJack">True for a jack; false for a control.</param>
/// <param name="Low">Where it is moved from: a position (0 counter-clockwise to 1), or V.</param>
/// <param name="High">Where to.</param>
public sealed record Drive(string Owner, string Part, string Label, bool IsJack, double Low, double High)
{
    /// <summary>The control across the jack that sets how much of the voltage counts, and where it lets all of it
    /// through; null when there is none.</summary>
    public (string Part, double Open)? Depth { get; init; }

    /// <summary>As it is named in a list of controls: <c>lead/P4</c>, or the jack: <c>lead/pwm</c>.</summary>
    public string Name => $"{Owner}/{(IsJack ? Label : Part)}";

    /// <summary>Name and, for a control, what it moves.</summary>
    public string Words => IsJack ? Name : $"{Name} ({Label})";

    /// <summary>From <see cref="Low"/> to <see cref="High"/>.</summary>
    public double Span => High - Low;

    /// <summary>What can move an oscillator, by the file of its module and that of the lead whose link it hangs on: all
    /// controls that are no trimmers, and all input jacks but the one that the pitch comes in by.</summary>
    /// <param name="swing">Jacks are driven from −swing to +swing, V.</param>
    public static ImmutableArray<Drive> Of(Voice voice, string oscillator, double swing)
    {
        IEnumerable<string> leads = voice.Ribbons.Where(ribbon => ribbon.To.Any(to => to.Owner == oscillator)).Select(ribbon => ribbon.From.Owner);
        string[] owners = [oscillator, .. leads.Distinct()];
        return [.. owners.Select(owner => voice.Members.First(member => member.Name == owner)).SelectMany(member => OfMember(member, swing))];
    }

    private static IEnumerable<Drive> OfMember(Member member, double swing)
    {
        Part[] knobs = [.. member.Module.Circuit.Where(part => part.Kind.Word == "potentiometer")];
        foreach (Part jack in member.Module.Circuit.Where(part => part.Kind.Word == "jack" && part.Texts["value"] == "input"))
            if (jack.Texts["label"] != member.Module.Pitch?.Control)
                yield return new(member.Name, jack.Name, jack.Texts["label"], true, -swing, swing) { Depth = DepthOf(jack, knobs) };
        foreach (Part knob in knobs)
            yield return new(member.Name, knob.Name, knob.NetAt("wiper") ?? "", false, 0, 1);
    }

    private static (string, double)? DepthOf(Part jack, Part[] knobs)
    {
        string tip = jack.NetAt("tip")!;
        foreach (Part knob in knobs)
            if (knob.NetAt("cw") == tip || knob.NetAt("ccw") == tip)
                return (knob.Name, knob.NetAt("cw") == tip ? 1 : 0);
        return null;
    }

    /// <summary>The voice with a source plugged into the jack, in place of what was plugged there, by a cord of 30 cm.</summary>
    internal Voice PluggedInto(Voice voice) => Plug(voice, new(Owner, Label), Source, SourceOhms);

    /// <summary>The voice with a source of that name at a jack: 0 V behind a resistance.</summary>
    internal static Voice Plug(Voice voice, JackName jack, string source, double ohms)
    {
        SourceSpan nowhere = voice.Members[0].At;
        return voice with
        {
            Players = voice.Players.Add(new(source, false, ohms, 0, 0, 0, nowhere)),
            Cords = [.. voice.Cords.Where(cord => cord.To != jack && cord.From != jack), new(new(source, "out"), jack, CordMetres, nowhere)],
        };
    }

    /// <summary>Name of the source that is plugged in.</summary>
    internal const string Source = "response source";

    /// <summary>Of a module's output, common practice: 1 kΩ.</summary>
    public const double SourceOhms = 1000;

    private const double CordMetres = 0.3;
}
