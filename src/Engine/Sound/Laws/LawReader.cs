using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Noise;
using Consort.Engine.Sound.Oscillators;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Shapes;
using Consort.Engine.Sound.Sync;

namespace Consort.Engine.Sound.Laws;

/// <summary>Reads from a voice's circuits all that a piece of music asks of them.</summary>
/// <param name="voice">Prepared, its controls where they are to stand.</param>
/// <param name="settings">What is to be played.</param>
/// <param name="threads">How many may work; the result does not depend on it.</param>
public sealed class LawReader(PlayedVoice voice, SoundSettings settings, int threads)
{
    private const int MovePoints = 17;

    /// <summary>Of a piece of so many notes each is read itself.</summary>
    internal const int FewNotes = 6;

    /// <summary>As many notes at most are read themselves.</summary>
    internal int MostExact { get; init; } = FewNotes;

    /// <summary>Control voltages that are played, the lowest and the highest, the strips' own intervals included.</summary>
    public (double Low, double High) Range { get; } = RangeOf(voice, settings);

    /// <summary>The voltage of a key on the first oscillator's law.</summary>
    public static double VoltsOf(Oscillator first, double key) =>
        first.Spec.ReferenceVoltage + first.Spec.VoltsPerOctave * Math.Log2(Quantities.NoteName.Hertz(key) / first.Spec.ReferenceFrequency);

    /// <summary>Reads every oscillator of the mixer, and the first one.</summary>
    public (ImmutableArray<SoundLaw> Laws, SolveFailure? Failure) Read(IProgress<(string, double)>? progress, CancellationToken cancel)
    {
        Oscillator[] wanted = [.. voice.Oscillators.Where((oscillator, i) => i == 0 || settings.Strips.Any(strip => strip.Oscillator == oscillator.Name))];
        progress?.Report(("reading sync", 0.3));
        (ImmutableArray<SyncLaw?> syncs, SolveFailure? unsynced) =
            wanted.Length > 1 ? new SyncReader(voice, Range.Low, Range.High, settings.Strips.ToLookup(strip => strip.Oscillator, strip => strip.Output)).Read() : ([], null);
        if (unsynced is not null)
            return ([], unsynced);
        (SoundLaw? Law, SolveFailure? Failure)[] read = new (SoundLaw?, SolveFailure?)[wanted.Length];
        int done = 0;
        Parallel.For(0, wanted.Length, new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancel }, i =>
        {
            int place = voice.Oscillators.IndexOf(wanted[i]);
            read[i] = ReadOne(voice.Twin(), wanted[i], place > 0 ? syncs[place - 1] : null);
            progress?.Report(("reading waves and pitch", 0.4 + 0.5 * Interlocked.Increment(ref done) / wanted.Length));
        });
        return read.FirstOrDefault(r => r.Failure is not null).Failure is { } failure ? ([], failure) : (InCommon([.. read.Select(r => r.Law!)]), null);
    }

    private static ImmutableArray<SoundLaw> InCommon(ImmutableArray<SoundLaw> laws)
    {
        if (laws.Any(law => law.Noise is null))
            return laws;
        ImmutableArray<NoiseLaw> mixed = NoiseLaw.Mixed([.. laws.Select(law => law.Noise!)]);
        return [.. laws.Select((law, i) => law with { Noise = mixed[i] })];
    }

    private static (double, double) RangeOf(PlayedVoice voice, SoundSettings settings)
    {
        if (voice.Oscillators.IsEmpty)
            return (0, 0);
        Oscillator first = voice.Oscillators[0];
        double[] volts = [.. settings.Strips.SelectMany(strip => Played(first, settings, strip))];
        return volts.Length == 0 ? (0, 0) : (volts.Min(), volts.Max());
    }

    // Control voltages that a strip plays, glides aside.
    private static IEnumerable<double> Played(Oscillator first, SoundSettings settings, Strip strip) =>
        settings.Score.Touches.Where(touch => touch.Key is not null)
            .Select(touch => VoltsOf(first, touch.Key!.Value) + (settings.MovedCents + strip.MovedCents) / 1200 * first.Spec.VoltsPerOctave).Distinct();

    // What takes a fixed time, as an edge behind a comparator, stands elsewhere in the period at another note: a few notes are
    // read themselves, of many the octaves are read and every key's wave is made of them.
    private double[] Exact(PlayedVoice twin, Oscillator oscillator)
    {
        double[] volts = [.. settings.Strips.Where(strip => strip.Oscillator == oscillator.Name).SelectMany(strip => Played(twin.Oscillators[0], settings, strip)).Distinct()];
        return volts.Length > MostExact ? [] : [.. volts.Except(Notes(oscillator.Spec.VoltsPerOctave))];
    }

    private (SoundLaw?, SolveFailure?) ReadOne(PlayedVoice twin, Oscillator oscillator, SyncLaw? sync)
    {
        SoloOscillator solo = new(twin, oscillator);
        if (solo.Prepare(twin.MiddleVolts) is { } failure)
            return (null, failure);
        string[] outputs = [.. settings.Strips.Where(strip => strip.Oscillator == oscillator.Name).Select(strip => strip.Output).Distinct()];
        PeriodReader reader = new(twin, solo, outputs.Select(output => $"{oscillator.Name}/{output}"));
        List<(double, double)> pitches = [];
        Dictionary<string, List<(double Volts, ReadWave Wave)>> waves = outputs.ToDictionary(output => output, _ => new List<(double, ReadWave)>());
        double[] exact = Exact(twin, oscillator);
        foreach (double volts in Notes(oscillator.Spec.VoltsPerOctave).Concat(exact).Order())
        {
            (SteadyPeriod? period, SolveFailure? broken) = reader.At(volts);
            if (period is null)
                return (null, broken);
            if (double.IsNaN(period.Hertz))
                continue;
            if (!exact.Contains(volts)) // the pitch law keeps its even points
                pitches.Add((volts, period.Hertz));
            for (int i = 0; i < outputs.Length; i++)
                waves[outputs[i]].Add((volts, WaveOf(period, i, exact.Contains(volts))));
        }
        if (pitches.Count == 0)
            return (null, new($"{oscillator.Name} does not oscillate at {Range.Low:G3} V to {Range.High:G3} V", oscillator.Spec.Net, 0, 0));
        (ImmutableArray<MoveLaw> moves, SolveFailure? unmoved) = ReadMoves(twin, solo, reader, outputs);
        if (unmoved is not null)
            return (null, unmoved);
        SoundLaw law = new(oscillator, new(oscillator, pitches), waves.ToImmutableDictionary(pair => pair.Key, pair => LawOf(oscillator, pair.Value, exact)), moves, sync);
        return UnrestReader.Read(law, twin, solo, settings, Range);
    }

    private double Highest => 0.5 * settings.Rate;

    // A key takes its harmonics from octaves of up to four times its pitch.
    private ReadWave WaveOf(SteadyPeriod period, int output, bool isExact)
    {
        ReadWave wave = ShapeReader.Wave(period.Times, period.Volts[output], (isExact ? 1 : 4) * Highest);
        return PulseReader.Read(period.Times, period.Volts[output]) is { } edges ? wave with { Edges = (edges.Rise, edges.Fall) } : wave;
    }

    private WaveLaw LawOf(Oscillator oscillator, List<(double Volts, ReadWave Wave)> waves, double[] exact) =>
        WaveLaw.Of(oscillator, [.. waves.Where(one => !exact.Contains(one.Volts))], waves.Where(one => exact.Contains(one.Volts)), Highest);

    // Every octave from below the lowest to above the highest that is played, two beyond where the law's spline can use them.
    private IEnumerable<double> Notes(double octave)
    {
        (double low, double high) = (Math.Floor(Range.Low / octave) - 1, Math.Ceiling(Range.High / octave) + 1);
        while (high - low < 4)
            (low, high) = (low - 1, high + 1);
        for (double note = low; note <= high; note++)
            yield return note * octave;
    }

    private (ImmutableArray<MoveLaw>, SolveFailure?) ReadMoves(PlayedVoice twin, SoloOscillator solo, PeriodReader reader, string[] outputs)
    {
        ImmutableArray<MoveLaw>.Builder laws = ImmutableArray.CreateBuilder<MoveLaw>();
        double note = 0.5 * (Range.Low + Range.High);
        foreach (Modulation move in settings.Moves)
        {
            string source = $"{move.Player}/V";
            double still = twin.Circuit[source, "value"];
            List<SteadyPeriod> periods = [];
            for (int i = 0; i < MovePoints; i++)
            {
                twin.Circuit[source, "value"] = still + move.Volts * (2.0 * i / (MovePoints - 1) - 1);
                (SteadyPeriod? period, SolveFailure? failure) = reader.At(note);
                if (period is null)
                    return ([], failure);
                periods.Add(period);
            }
            twin.Circuit[source, "value"] = still;
            laws.Add(Law(still, move, periods, outputs, note));
        }
        return (laws.ToImmutable(), null);
    }

    private static MoveLaw Law(double still, Modulation move, List<SteadyPeriod> periods, string[] outputs, double note)
    {
        double own = periods[MovePoints / 2].Hertz;
        ImmutableArray<double> ratios = [.. periods.Select(period => double.IsFinite(period.Hertz) ? period.Hertz / own : 0)];
        ImmutableDictionary<string, ImmutableArray<PulseEdges>>.Builder edges = ImmutableDictionary.CreateBuilder<string, ImmutableArray<PulseEdges>>();
        for (int i = 0; i < outputs.Length; i++)
            if (EdgesOf(periods, i) is { } moving)
                edges[outputs[i]] = moving;
        return new(still - Math.Abs(move.Volts), still + Math.Abs(move.Volts), move.Volts < 0 ? [.. ratios.Reverse()] : ratios,
            move.Volts < 0 ? edges.ToImmutableDictionary(pair => pair.Key, pair => pair.Value.Reverse().ToImmutableArray()) : edges.ToImmutable(), note);
    }

    // Null unless the wave is a pulse whose edges move by more than a thousandth of the period.
    private static ImmutableArray<PulseEdges>? EdgesOf(List<SteadyPeriod> periods, int channel)
    {
        SteadyPeriod[] sound = [.. periods.Where(period => period.Times.Length > 1)];
        PulseEdges? sample = sound.Select(period => PulseReader.Read(period.Times, period.Volts[channel])).FirstOrDefault(edges => edges is not null);
        if (sample is not { } known || sound.Length < periods.Count)
            return null;
        PulseEdges?[] all = [.. periods.Select(period => PulseReader.Read(period.Times, period.Volts[channel], known.Low, known.High))];
        if (all.Any(edges => edges is null))
            return null;
        PulseEdges[] edges = [.. all.Select(edge => edge!.Value)];
        bool moves = edges.Any(edge => edge.Stuck != edges[0].Stuck || Math.Abs(edge.Rise - edges[0].Rise) > 1e-3 || Math.Abs(edge.Fall - edges[0].Fall) > 1e-3);
        return moves ? [.. edges] : null;
    }
}
