using System.Collections.Concurrent;
using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Engine.Planning;

/// <summary>What a way of wiring does to pitch.</summary>
/// <param name="MovedCents">Largest change of any oscillator against itself alone, trims as their files have them, signed:
/// what is heard when the voice is put together, or when a cord is pulled.</param>
/// <param name="TrackingCents">Largest error of any oscillator over the octaves that are asked, all trimmed in place.</param>
/// <param name="ApartCents">Largest difference of two oscillators' errors at one note, all trimmed in place.</param>
/// <param name="BusCents">By oscillator: largest change by the resistance of the supply and its wiring, signed.</param>
public sealed record WiringReading(double MovedCents, double TrackingCents, double ApartCents, ImmutableDictionary<string, double> BusCents);

/// <summary>A voice wired one way, trimmed in place.</summary>
/// <param name="Played">It.</param>
/// <param name="AtRest">At mid keyboard.</param>
/// <param name="Curves">By oscillator, over the octaves that are asked, at the bench's temperature.</param>
internal sealed record TrimmedWay(PlayedVoice Played, RestState AtRest, TrackingCurve[] Curves)
{
    /// <summary>Largest error of any oscillator, cents.</summary>
    public double WorstCents { get; } = Curves.SelectMany(curve => curve.Points).Max(point => Math.Abs(point.Cents));
}

/// <summary>
/// Reads what a way of wiring does to pitch: each oscillator is run in its full circuit within the voice, and compared with
/// the same oscillator (a follower with its lead) played by itself from a source without resistance; with the same voice on a
/// supply without resistance; and, when all are trimmed in place, with the ideal law.
/// </summary>
/// <param name="notes">Keyboard voltages, V.</param>
internal sealed class WiringPitch(double[] notes)
{
    private const double BenchRibbon = 0.12; // m
    private const double Stiffest = 1e-6; // ohm: a tenth of a microvolt at 100 mA, and a wire is still a wire to the solver

    // Changes by loading and supply grow with the control voltage: three notes show them.
    private readonly double[] few = [.. new[] { notes[0], notes[notes.Length / 2], notes[^1] }.Distinct()];
    private readonly ConcurrentDictionary<string, Lazy<(double[]? Hertz, SolveFailure? Failure)>> alone = new();

    /// <summary>Reads it, and gives the voice on the way, trimmed in place: at rest, for its currents and drops, and its curves.</summary>
    public (WiringReading? Reading, TrimmedWay? Way, SolveFailure? Failure) Read(Voice voice, CancellationToken cancel)
    {
        PlayedVoice played = PlayedVoice.Of(voice, cancel);
        if (played.Prepare() is { } unready)
            return (null, null, unready);
        (SoloOscillator[]? solos, SolveFailure? failure) = Solos(played);
        if (solos is null)
            return (null, null, failure);
        (double[][]? wired, failure) = All(solos, few);
        if (wired is null)
            return (null, null, failure);
        (double[][]? stiff, failure) = Stiff(voice);
        if (stiff is null)
            return (null, null, failure);
        (double[][]? single, failure) = Single(voice, played);
        if (single is null)
            return (null, null, failure);
        if (VoiceTrimming.Run(played, solos) is { } untrimmed)
            return (null, null, untrimmed);
        (double[][]? trimmed, failure) = All(solos, notes);
        if (trimmed is null)
            return (null, null, failure);
        (RestState? rest, failure) = played.Rest(played.MiddleVolts);
        if (rest is null)
            return (null, null, failure);
        TrimmedWay way = new(played, rest, [.. played.Oscillators.Select((oscillator, i) => Curve(oscillator, trimmed[i]))]);
        return (Compared(way, wired, stiff, single), way, null);
    }

    private TrackingCurve Curve(Oscillator oscillator, double[] hertz) =>
        new(oscillator.Name, Prover.BenchKelvin, [.. notes.Select((volts, n) => new TrackingPoint(volts, oscillator.IdealHertz(volts), hertz[n], oscillator.Cents(volts, hertz[n])))]);

    private WiringReading Compared(TrimmedWay way, double[][] wired, double[][] stiff, double[][] single)
    {
        double[][] moved = [.. wired.Zip(single, Cents)], bus = [.. wired.Zip(stiff, Cents)];
        double[][] errors = [.. way.Curves.Select(curve => curve.Points.Select(point => point.Cents).ToArray())];
        return new(
            moved.SelectMany(cents => cents).MaxBy(cents => Math.Abs(cents)),
            way.WorstCents,
            Enumerable.Range(0, notes.Length).Max(n => errors.Max(e => e[n]) - errors.Min(e => e[n])),
            way.Played.Oscillators.Select((oscillator, i) => KeyValuePair.Create(oscillator.Name, bus[i].MaxBy(cents => Math.Abs(cents)))).ToImmutableDictionary()
        );
    }

    private static double[] Cents(double[] of, double[] against) => [.. of.Zip(against, (f, g) => 1200 * Math.Log2(f / g))];

    private (double[][]? Hertz, SolveFailure? Failure) Stiff(Voice voice)
    {
        Supply supply = new([.. voice.Supply.Rails.Select(rail => rail with { SourceResistance = Stiffest })], Stiffest, Stiffest);
        PlayedVoice played = PlayedVoice.Of(voice with { Supply = supply });
        if (played.Prepare() is { } unready)
            return (null, unready);
        (SoloOscillator[]? solos, SolveFailure? failure) = Solos(played);
        return solos is null ? (null, failure) : All(solos, few);
    }

    private (double[][]? Hertz, SolveFailure? Failure) Single(Voice voice, PlayedVoice played)
    {
        double[][] all = new double[played.Oscillators.Length][];
        for (int i = 0; i < all.Length; i++)
        {
            Member member = played.Oscillators[i].Member;
            Ribbon? ribbon = voice.Ribbons.FirstOrDefault(ribbon => ribbon.To.Any(to => to.Owner == member.Name));
            Member? lead = ribbon is null ? null : voice.Members.First(other => other.Name == ribbon.From.Owner);
            (double[]? hertz, SolveFailure? failure) = alone.GetOrAdd(Key(member, lead), _ => new(() => Alone(voice, member, lead, ribbon))).Value;
            if (hertz is null)
                return (null, failure);
            all[i] = hertz;
        }
        return (all, null);
    }

    private (double[]? Hertz, SolveFailure? Failure) Alone(Voice voice, Member member, Member? lead, Ribbon? ribbon)
    {
        PlayedVoice played = PlayedVoice.Of(ByItself(voice, member, lead, ribbon));
        if (played.Prepare() is { } unready)
            return (null, unready);
        SoloOscillator solo = new(played, played.Oscillators.First(oscillator => oscillator.Name == member.Name));
        return solo.Prepare(played.MiddleVolts) is { } unprepared ? (null, unprepared) : One(solo, few);
    }

    private static (SoloOscillator[]? Solos, SolveFailure? Failure) Solos(PlayedVoice played)
    {
        SoloOscillator[] solos = [.. played.Oscillators.Select(oscillator => new SoloOscillator(played, oscillator))];
        foreach (SoloOscillator solo in solos)
            if (solo.Prepare(played.MiddleVolts) is { } unready)
                return (null, unready);
        return (solos, null);
    }

    private static (double[][]? Hertz, SolveFailure? Failure) All(SoloOscillator[] solos, double[] at)
    {
        double[][] all = new double[solos.Length][];
        for (int i = 0; i < all.Length; i++)
        {
            (double[]? hertz, SolveFailure? failure) = One(solos[i], at);
            if (hertz is null)
                return (null, failure);
            all[i] = hertz;
        }
        return (all, null);
    }

    private static (double[]? Hertz, SolveFailure? Failure) One(SoloOscillator solo, double[] at)
    {
        double[] hertz = new double[at.Length];
        for (int i = 0; i < at.Length; i++)
        {
            (hertz[i], SolveFailure? failure) = solo.Read(at[i]);
            if (failure is not null)
                return (null, failure);
        }
        return (hertz, null);
    }

    // One reading serves all ways of wiring: nothing in it may hang on the way that asks first.
    private static string Key(Member member, Member? lead) => $"{Said(member)} on {(lead is null ? "" : Said(lead))}";

    private static string Said(Member member) =>
        $"{member.Module.At.File} {member.Module.Name} {string.Join(' ', member.Set.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key}={pair.Value:R}"))}";

    /// <summary>A member on its own, or on the link of its lead, played from a source without resistance.</summary>
    internal static Voice ByItself(Voice voice, Member member, Member? lead, Ribbon? ribbon)
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
