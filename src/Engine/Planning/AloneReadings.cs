using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Planning;

/// <summary>
/// What an oscillator (a follower with its lead) does when it is played by itself from a source without resistance: its pitch
/// with trims as its file has them, and what trimming it teaches. Each is read once and serves all ways of wiring: nothing in
/// it may hang on the way that asks first.
/// </summary>
/// <param name="notes">Keyboard voltages at which its pitch is read, V.</param>
internal sealed class AloneReadings(double[] notes)
{
    private const double BenchRibbon = 0.12; // m

    private readonly ConcurrentDictionary<string, Lazy<(double[]? Hertz, SolveFailure? Failure)>> read = new();
    private readonly ConcurrentDictionary<string, Lazy<TrimLesson?>> learned = new();

    /// <summary>Its frequencies with its controls as they are set, Hz by note.</summary>
    public (double[]? Hertz, SolveFailure? Failure) Hertz(Voice voice, Member member)
    {
        (Member? lead, Ribbon? ribbon) = LinkOf(voice, member);
        return read.GetOrAdd(Key(member, lead), key => new(() =>
        {
            (SoloOscillator? solo, _, SolveFailure? failure) = Ready(voice, member, lead, ribbon);
            return solo is null ? (null, failure) : solo.Read(notes);
        })).Value;
    }

    /// <summary>What trimming one of its module teaches, with controls as the module's file has them; null when that teaches
    /// nothing or fails: an oscillator in its voice is then trimmed without.</summary>
    public TrimLesson? Lesson(Voice voice, Member member)
    {
        (Member? lead, Ribbon? ribbon) = LinkOf(voice, member);
        (Member one, Member? on) = (AsFiled(member), lead is null ? null : AsFiled(lead));
        return learned.GetOrAdd(Key(one, on), key => new(() =>
        {
            (SoloOscillator? solo, PlayedVoice played, _) = Ready(voice, one, on, ribbon);
            if (solo is null)
                return null;
            NominalTrim trim = new(played, solo);
            return trim.Run().Failure is null ? trim.Lesson : null;
        })).Value;
    }

    private static Member AsFiled(Member member) => member with { StandsCents = 0, Set = ImmutableDictionary<string, double>.Empty };

    private static (Member? Lead, Ribbon? Ribbon) LinkOf(Voice voice, Member member)
    {
        Ribbon? ribbon = voice.RibbonTo(member.Name);
        return (ribbon is null ? null : voice.Members.First(other => other.Name == ribbon.From.Owner), ribbon);
    }

    private static (SoloOscillator? Solo, PlayedVoice Played, SolveFailure? Failure) Ready(Voice voice, Member member, Member? lead, Ribbon? ribbon)
    {
        PlayedVoice played = PlayedVoice.Of(Alone(voice, member, lead, ribbon));
        if (played.Prepare() is { } unready)
            return (null, played, unready);
        SoloOscillator solo = new(played, played.Oscillators.First(oscillator => oscillator.Name == member.Name));
        return solo.Prepare(played.MiddleVolts) is { } unprepared ? (null, played, unprepared) : (solo, played, null);
    }

    /// <summary>What tells it from others: module and controls, its lead's too.</summary>
    internal static string Key(Member member, Member? lead) => $"{Said(member)} on {(lead is null ? "" : Said(lead))}";

    private static string Said(Member member) =>
        $"{member.Module.At.File} {member.Module.Name} {string.Join(' ', member.Set.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => string.Create(CultureInfo.InvariantCulture, $"{pair.Key}={pair.Value:R}")))}";

    /// <summary>A member on its own, or on the link of its lead, played from a source without resistance.</summary>
    internal static Voice Alone(Voice voice, Member member, Member? lead, Ribbon? ribbon)
    {
        Member played = lead ?? member;
        Player keyboard = voice.Players.First(player => player.IsPitch) with { Resistance = 0 };
        return voice with
        {
            Members = lead is null ? [member] : [lead, member],
            Players = [keyboard],
            Multiples = [],
            Cords = [new(new(keyboard.Name, "out"), new(played.Name, played.Module.Pitch!.Control!), 0.3, SourceSpan.None)],
            Ribbons = ribbon is null ? [] : [ribbon with { To = [ribbon.To.First(to => to.Owner == member.Name)], Length = BenchRibbon }],
        };
    }
}
