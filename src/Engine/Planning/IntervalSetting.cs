using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using MathNet.Numerics.RootFinding;

namespace Consort.Engine.Planning;

/// <summary>Turns oscillators to wide intervals by their controls, as a player would: the switch way that comes nearest, then
/// the knob with the widest reach. A lead's own setting reaches its followers over the link, and theirs stand on top of it.
/// Pitch is taken as the logarithm of the timing current at rest; the centre trimmer takes what that misses.</summary>
/// <param name="voice">Where supply and players come from.</param>
internal sealed class IntervalSetting(Voice voice)
{
    private const double Wide = 50; // cents: nearer ones are left to the centre trimmer
    private const double Enough = 2; // cents
    private const double Deaf = 1; // cents: a control that moves less is none of pitch
    private const int Digits = 4; // of where a knob stands, as a share of its turn
    private const double Finest = 1e-6;
    private const int MostTries = 60;

    private readonly Dictionary<string, (ImmutableDictionary<string, double> Set, double Cents)> known = [];

    /// <summary>The same wiring with controls set; an interval that they do not reach is told among the unmet wishes.</summary>
    public Wired Of(Wired wired)
    {
        Dictionary<string, Member> done = [];
        List<string> unmet = [.. wired.Unmet];
        foreach (Member member in wired.Voice.Members)
        {
            Ribbon? ribbon = wired.Voice.RibbonTo(member.Name);
            Member? lead = ribbon is null ? null : done[ribbon.From.Owner];
            done[member.Name] = Math.Abs(member.StandsCents) > Wide || Math.Abs(lead?.StandsCents ?? 0) > Wide ? Turned(member, lead, ribbon, unmet) : member;
        }
        return wired with { Voice = wired.Voice with { Members = [.. wired.Voice.Members.Select(member => done[member.Name])] }, Unmet = [.. unmet] };
    }

    private Member Turned(Member member, Member? lead, Ribbon? ribbon, List<string> unmet)
    {
        string key = string.Create(CultureInfo.InvariantCulture, $"{AloneReadings.Key(member, lead)} at {member.StandsCents:R}");
        if (!known.TryGetValue(key, out (ImmutableDictionary<string, double> Set, double Cents) found))
            known.Add(key, found = Find(member, lead, ribbon));
        Member turned = member with { Set = found.Set };
        if (Math.Abs(found.Cents - member.StandsCents) <= Wide)
            return turned;
        unmet.Add(string.Create(CultureInfo.InvariantCulture, $"{member.Name} stands at {found.Cents:+0;-0;0} cents, not at {member.StandsCents:+0;-0;0}: its controls reach no further"));
        return turned with { StandsCents = Math.Round(found.Cents) };
    }

    private (ImmutableDictionary<string, double> Set, double Cents) Find(Member member, Member? lead, Ribbon? ribbon)
    {
        PlayedVoice played = PlayedVoice.Of(AloneReadings.Alone(voice, member, lead, ribbon));
        Oscillator? oscillator = played.Oscillators.FirstOrDefault(oscillator => oscillator.Name == member.Name);
        if (oscillator is null || played.Prepare() is not null || Octaves(played, oscillator) is not { } start)
            return (member.Set, 0);
        double before = lead is null ? start : Unmoved(member, lead, ribbon!) ?? start; // what the lead's setting moved counts
        ImmutableDictionary<string, double> set = member.Set;
        double cents = 1200 * (start - before);
        foreach (Control control in Controls(played, oscillator))
        {
            if (Math.Abs(cents - member.StandsCents) <= Enough)
                break;
            (double place, double reached) = control.Nearest(member.StandsCents, at => Cents(control, at));
            if (Math.Abs(reached - member.StandsCents) < Math.Abs(cents - member.StandsCents))
                (set, cents) = (set.SetItem(control.Part, place), reached);
            Cents(control, set.GetValueOrDefault(control.Part, control.Written));
        }
        return (set, cents);

        double Cents(Control control, double at)
        {
            played.Circuit[oscillator.Part(control.Part), control.Word] = at;
            return Octaves(played, oscillator) is { } octaves ? 1200 * (octaves - before) : double.NaN;
        }
    }

    private double? Unmoved(Member member, Member lead, Ribbon ribbon)
    {
        PlayedVoice played = PlayedVoice.Of(AloneReadings.Alone(voice, member, lead with { Set = voice.Members.FirstOrDefault(known => known.Name == lead.Name && known.Module.At.File == lead.Module.At.File)?.Set ?? ImmutableDictionary<string, double>.Empty }, ribbon));
        return played.Prepare() is null ? Octaves(played, played.Oscillators.First(oscillator => oscillator.Name == member.Name)) : null;
    }

    private static double? Octaves(PlayedVoice played, Oscillator oscillator) =>
        played.Rest(played.MiddleVolts).State is { } state ? Math.Log2(TimingCapacitor.Size(played.Circuit, oscillator.TimingCapacitor, state)) : null;

    // Switches first, then knobs by their reach, the widest first.
    private static IEnumerable<Control> Controls(PlayedVoice played, Oscillator oscillator)
    {
        List<(Control Control, double Reach)> found = [];
        foreach (Part part in oscillator.Member.Module.Circuit.Where(part => part.Kind.Word is "selector" or "potentiometer"))
        {
            bool isSwitch = part.Kind.Word == "selector";
            string word = isSwitch ? "value" : "position";
            double written = played.Circuit[oscillator.Part(part.Name), word];
            Control control = new(part.Name, word, written, isSwitch ? part.Terminals.Count(joint => joint.Terminal.StartsWith("way ", StringComparison.Ordinal)) : 0);
            double[] octaves = [.. control.Ends.Select(at => At(part.Name, word, at))];
            At(part.Name, word, written);
            double reach = 1200 * (octaves.Max() - octaves.Min());
            if (reach > Deaf)
                found.Add((control, reach));
        }
        return found.OrderByDescending(pair => pair.Control.Ways).ThenByDescending(pair => pair.Reach).Select(pair => pair.Control);

        double At(string part, string word, double at)
        {
            played.Circuit[oscillator.Part(part), word] = at;
            return Octaves(played, oscillator) ?? 0;
        }
    }

    /// <summary>A switch or knob.</summary>
    /// <param name="Part">Designator.</param>
    /// <param name="Word">Its parameter.</param>
    /// <param name="Written">Where it stands.</param>
    /// <param name="Ways">Of a switch; 0 for a knob.</param>
    private sealed record Control(string Part, string Word, double Written, int Ways)
    {
        public IEnumerable<double> Ends => Ways > 0 ? Enumerable.Range(1, Ways).Select(way => (double)way) : [0, 1];

        /// <summary>Where it comes nearest to an interval, and the interval there.</summary>
        public (double Place, double Cents) Nearest(double wanted, Func<double, double> cents)
        {
            (double Place, double Cents)[] ends = [.. Ends.Select(at => (at, cents(at)))];
            if (Ways > 0 || (ends[0].Cents - wanted) * (ends[1].Cents - wanted) > 0)
                return ends.MinBy(end => Math.Abs(end.Cents - wanted));
            if (!Brent.TryFindRoot(at => cents(at) - wanted, 0, 1, Finest, MostTries, out double root))
                return ends.MinBy(end => Math.Abs(end.Cents - wanted));
            double place = Math.Round(root, Digits); // a knob is turned no finer
            return (place, cents(place));
        }
    }
}
