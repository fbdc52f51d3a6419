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
/// <param name="Sheets">By oscillator: the notes of its trimming sheet.</param>
internal sealed record TrimmedWay(PlayedVoice Played, RestState AtRest, TrackingCurve[] Curves, TrackingCurve[] Sheets)
{
    /// <summary>Largest error of any oscillator, cents.</summary>
    public double WorstCents { get; } = Curves.SelectMany(curve => curve.Points).Max(point => Math.Abs(point.Cents));
}

/// <summary>
/// Reads what a way of wiring does to pitch: each oscillator is run in its full circuit within the voice, and compared with
/// the same oscillator (a follower with its lead) played by itself from a source without resistance; with the same voice on a
/// supply without resistance; and, when all are trimmed in place, with the ideal law.
/// </summary>
internal sealed class WiringPitch
{
    private const double Stiffest = 1e-6; // ohm: a tenth of a microvolt at 100 mA, and a wire is still a wire to the solver

    private readonly double[] notes;
    private readonly double[] ends; // where changes by loading and supply are largest: they are a share of the control voltage and a shift
    private readonly AloneReadings alone;

    /// <summary>For the notes that are asked.</summary>
    /// <param name="notes">Keyboard voltages, V.</param>
    public WiringPitch(double[] notes)
    {
        this.notes = notes;
        ends = [.. new[] { notes[0], notes[^1] }.Distinct()];
        alone = new(ends);
    }

    /// <summary>Reads it, and gives the voice on the way, trimmed in place: at rest, for its currents and drops, and its curves.</summary>
    public (WiringReading? Reading, TrimmedWay? Way, SolveFailure? Failure) Read(Voice voice, CancellationToken cancel)
    {
        PlayedVoice played = PlayedVoice.Of(voice, cancel);
        (SoloOscillator[]? solos, SolveFailure? failure) = Solos(played);
        if (solos is null)
            return (null, null, failure);
        (double[][]? wired, failure) = Each(solos, solo => solo.Read(ends));
        if (wired is null)
            return (null, null, failure);
        (double[][]? stiff, failure) = Stiff(voice);
        if (stiff is null)
            return (null, null, failure);
        (double[][]? single, failure) = Each(solos, solo => alone.Hertz(voice, solo.Oscillator.Member));
        if (single is null)
            return (null, null, failure);
        (TrimmedWay? way, failure) = Trimmed(played, solos);
        return way is null ? (null, null, failure) : (Compared(way, wired, stiff, single), way, null);
    }

    private (TrimmedWay? Way, SolveFailure? Failure) Trimmed(PlayedVoice played, SoloOscillator[] solos)
    {
        (NominalTrim[]? trims, SolveFailure? failure) = VoiceTrimming.Run(played, solos, oscillator => alone.Lesson(played.Voice, oscillator.Member));
        if (trims is null)
            return (null, failure);
        foreach (NominalTrim trim in trims)
            if (trim.LookAgain() is { } unseen)
                return (null, unseen);
        TrackingCurve[] curves = new TrackingCurve[solos.Length];
        for (int o = 0; o < solos.Length; o++)
        {
            (curves[o], failure) = Curve(solos[o], trims[o]);
            if (failure is not null)
                return (null, failure);
        }
        (RestState? rest, failure) = played.Rest(played.MiddleVolts);
        return rest is null ? (null, failure) : (new(played, rest, curves, [.. solos.Select((solo, o) => Sheet(solo.Oscillator, trims[o]))]), null);
    }

    // Notes of the trimming sheet are known from the trim itself.
    private (TrackingCurve Curve, SolveFailure? Failure) Curve(SoloOscillator solo, NominalTrim trim)
    {
        Oscillator oscillator = solo.Oscillator;
        TrackingPoint[] points = new TrackingPoint[notes.Length];
        for (int n = 0; n < notes.Length; n++)
        {
            if (trim.Left(notes[n]) is { } left)
            {
                points[n] = Trimmed(oscillator, notes[n], left);
                continue;
            }
            (double hertz, SolveFailure? failure) = solo.Read(notes[n]);
            if (failure is not null)
                return (new(oscillator.Name, Prover.BenchKelvin, []), failure);
            points[n] = new(notes[n], oscillator.IdealHertz(notes[n]), hertz, oscillator.Cents(notes[n], hertz));
        }
        return (new(oscillator.Name, Prover.BenchKelvin, [.. points]), null);
    }

    private static TrackingCurve Sheet(Oscillator oscillator, NominalTrim trim) =>
        new(oscillator.Name, Prover.BenchKelvin, [.. trim.Volts.Select(volts => Trimmed(oscillator, volts, trim.Left(volts)!.Value))]);

    private static TrackingPoint Trimmed(Oscillator oscillator, double volts, double left)
    {
        double ideal = oscillator.IdealHertz(volts);
        return new(volts, ideal, ideal * Math.Pow(2, left / 1200), left);
    }

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
        (SoloOscillator[]? solos, SolveFailure? failure) = Solos(PlayedVoice.Of(voice with { Supply = supply }));
        return solos is null ? (null, failure) : Each(solos, solo => solo.Read(ends));
    }

    private static (SoloOscillator[]? Solos, SolveFailure? Failure) Solos(PlayedVoice played)
    {
        if (played.Prepare() is { } unready)
            return (null, unready);
        SoloOscillator[] solos = [.. played.Oscillators.Select(oscillator => new SoloOscillator(played, oscillator))];
        foreach (SoloOscillator solo in solos)
            if (solo.Prepare(played.MiddleVolts) is { } unprepared)
                return (null, unprepared);
        return (solos, null);
    }

    private static (double[][]? Hertz, SolveFailure? Failure) Each(SoloOscillator[] solos, Func<SoloOscillator, (double[]? Hertz, SolveFailure? Failure)> read)
    {
        double[][] all = new double[solos.Length][];
        for (int i = 0; i < all.Length; i++)
        {
            (double[]? hertz, SolveFailure? failure) = read(solos[i]);
            if (hertz is null)
                return (null, failure);
            all[i] = hertz;
        }
        return (all, null);
    }
}
