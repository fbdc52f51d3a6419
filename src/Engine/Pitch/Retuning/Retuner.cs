using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Trimming;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Retuning;

/// <summary>A value that is free, and what it is to become.</summary>
/// <param name="File">The module's file.</param>
/// <param name="Part">The part.</param>
/// <param name="Series">The series of preferred values that were tried.</param>
/// <param name="Before">Its value now, SI units.</param>
/// <param name="After">The value that was found.</param>
public sealed record RetunedValue(string File, Part Part, string Series, double Before, double After);

/// <summary>An oscillator before and after, both trimmed and read from transients.</summary>
/// <param name="Oscillator">The member's name.</param>
/// <param name="Before">Its trimmers now.</param>
/// <param name="After">Its trimmers with the new values.</param>
/// <param name="TrackingBefore">Worst pitch error over the octaves that are asked now, cents.</param>
/// <param name="TrackingAfter">The same with the new values.</param>
public sealed record RetunedOscillator(
    string Oscillator,
    ImmutableArray<TrimResult> Before,
    ImmutableArray<TrimResult> After,
    double TrackingBefore,
    double TrackingAfter
);

/// <summary>What was found.</summary>
/// <param name="Values">Every free value.</param>
/// <param name="Oscillators">Every oscillator of the voice.</param>
/// <param name="Tried">Sets of values that were looked at.</param>
public sealed record Retuning(ImmutableArray<RetunedValue> Values, ImmutableArray<RetunedOscillator> Oscillators, int Tried);

/// <summary>Finds preferred values for the parts that a module names <c>free</c>, so that its trimmers stand near their middle and
/// its tracking is flat. Every set of values near those of now is tried on the pitch path and core law, trimmed as a
/// person would; what is best is trimmed and read again as the whole circuit in transients.</summary>
/// <param name="threads">How many may work; the result does not depend on it.</param>
public sealed class Retuner(int threads)
{
    /// <summary>Preferred values tried on either side of the one that stands.</summary>
    private const int Around = 4;
    private const int MostTried = 20_000;
    private const int MostPasses = 3;
    private const double Widest = 0.25; // of a value: what paths and laws are made ready for
    private const double Worthwhile = 1e-3; // of the score: a trimmer 3 % of its half-turn nearer to the middle

    /// <summary>Runs. The voice has free parts.</summary>
    public (Retuning? Found, Unproved? Failure) Run(Voice voice, IProgress<(string Stage, double Done)>? progress = null, CancellationToken cancel = default)
    {
        Voice now = voice;
        (Reading? before, SolveFailure? failure) = Read(now);
        Reading? after = before;
        int tried = 0;
        bool moved = true;
        // Paths and laws are made ready about a design: where values move far, they are made ready again about what was found.
        for (int pass = 0; pass < MostPasses && moved && after is not null; pass++)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(("trying values", (pass + 0.3) / (MostPasses + 1)));
            (Voice? next, failure) = Improve(now, after, ref tried);
            if (next is null)
                break;
            moved = !ReferenceEquals(next, now);
            now = next;
            progress?.Report(("trimming and reading what was found", (pass + 0.8) / (MostPasses + 1)));
            if (moved)
                (after, failure) = Read(now);
        }
        return failure is not null || before is null || after is null
            ? (null, Prover.Because(failure!))
            : (new([.. Values(voice, now)], [.. before.Compare(after)], tried), null);
    }

    /// <summary>A voice trimmed and read at the bench's temperature.</summary>
    private sealed record Reading(PlayedVoice Voice, ImmutableArray<TrimResult> Trims, DesignReadings Readings)
    {
        public IEnumerable<RetunedOscillator> Compare(Reading after) =>
            Voice.Oscillators.Select((oscillator, o) => new RetunedOscillator(oscillator.Name, Of(Trims, oscillator.Name), Of(after.Trims, oscillator.Name), Worst(o), after.Worst(o)));

        private double Worst(int o)
        {
            Limits limits = Voice.Voice.Limits;
            return Enumerable
                .Range(0, Readings.Volts.Length)
                .Where(n => limits.Asks(Readings.Volts[n], Voice.Oscillators[o].Spec.VoltsPerOctave))
                .Max(n => Math.Abs(Voice.Oscillators[o].Cents(Readings.Volts[n], Readings.Hertz[o][0][n])));
        }
    }

    private (Reading? Reading, SolveFailure? Failure) Read(Voice voice)
    {
        (PlayedVoice? played, ImmutableArray<TrimResult> trims, SolveFailure? failure) = ReadyVoice.Trimmed(voice, threads);
        if (played is null)
            return (null, failure);
        DesignReadings readings = new(played, [Prover.BenchKelvin], Prover.Notes(voice));
        return readings.Complete(played, threads) is { } unread ? (null, unread) : (new(played, trims, readings), null);
    }

    // The same voice when nothing better was found.
    private (Voice? Voice, SolveFailure? Failure) Improve(Voice voice, Reading reading, ref int tried)
    {
        Dictionary<(string, string), double> free = voice.Members.SelectMany(m => m.Module.Free.Select(part => ($"{m.Name}/{part}", "value"))).ToDictionary(f => f, _ => Widest);
        (PlayedVoice design, DesignReadings readings) = OffEnds(reading);
        (VoiceBuilds? builds, SolveFailure? failure) = VoiceBuilds.Find(design, Stock.Empty, readings, threads, plan => plan.WithWidths(free));
        if (builds is null)
            return (null, failure);
        Voice next = voice;
        foreach (Module module in voice.Members.Select(m => m.Module).Where(m => !m.Free.IsEmpty).Distinct())
        {
            int o = Array.FindIndex([.. reading.Voice.Oscillators], oscillator => oscillator.Member.Module == module);
            if (o >= 0 && new ModuleTuning(builds, o, module).Find(ref tried) is { } found)
                next = next.With(module, module.With("value", found));
        }
        return (next, null);
    }

    // Where a trimmer stands at its end a slope says nothing of its travel: such a design is made ready with it in the middle.
    private static (PlayedVoice Voice, DesignReadings Readings) OffEnds(Reading reading)
    {
        TrimResult[] atEnd = [.. reading.Trims.Where(trim => !trim.Reached)];
        if (atEnd.Length == 0)
            return (reading.Voice, reading.Readings);
        PlayedVoice design = reading.Voice.Twin();
        foreach (TrimResult trim in atEnd)
            design.Circuit[$"{trim.Oscillator}/{trim.Trimmer}", "position"] = 0.5;
        return (design, new(design, reading.Readings.Kelvins, reading.Readings.Volts));
    }

    private static IEnumerable<RetunedValue> Values(Voice before, Voice after) =>
        from pair in before.Members.Zip(after.Members).DistinctBy(pair => pair.First.Module)
        from name in pair.First.Module.Free
        let part = pair.First.Module.Circuit.First(p => p.Name == name)
        let now = pair.Second.Module.Circuit.First(p => p.Name == name)
        select new RetunedValue(part.At.File, part, SeriesOf(part).Name, part.Number("value"), now.Number("value"));

    // What values of a tolerance are made in: E96 for 1 %, E24 for 5 %, E12 for 10 % and more (IEC 60063 names them so).
    private static Series SeriesOf(Part part) => Series.Find(part.Number("tolerance") switch { <= 0.02 => "E96", <= 0.05 => "E24", _ => "E12" })!;

    private static ImmutableArray<TrimResult> Of(ImmutableArray<TrimResult> trims, string name) => [.. trims.Where(trim => trim.Oscillator == name)];

    /// <summary>One module's values, on the first oscillator that is made of it.</summary>
    private sealed class ModuleTuning
    {
        private readonly VoiceBuilds builds;
        private readonly Module module;
        private readonly Part[] parts;
        private readonly Series[] series;
        private readonly int[][] places; // of each part's value among the draws, all pieces
        private readonly BuildReader<One> reader;
        private readonly BuildTrimmer<One> trimmer;
        private readonly One[] departures;
        private readonly One[] positions;
        private readonly int[] asked;
        private readonly double limit;

        public ModuleTuning(VoiceBuilds builds, int oscillator, Module module)
        {
            (this.builds, this.module) = (builds, module);
            parts = [.. module.Free.Select(name => module.Circuit.First(part => part.Name == name))];
            series = [.. parts.Select(SeriesOf)];
            HashSet<string> pieces = [.. builds.Voice.Voice.Members.Where(m => m.Module == module).Select(m => m.Name)];
            places =
            [
                .. parts.Select(part =>
                    Enumerable
                        .Range(0, builds.Draws.Parameters.Length)
                        .Where(p => builds.Draws.Parameters[p] is { Word: "value" } drawn && pieces.Any(piece => drawn.Part.Name == $"{piece}/{part.Name}"))
                        .ToArray()
                ),
            ];
            reader = builds.Reader<One>(oscillator);
            trimmer = new(builds.Sheets[oscillator], reader);
            departures = new One[builds.Draws.Parameters.Length];
            positions = [.. builds.Paths.Trimmers.Select(t => new One(t.Place.Bank.Numbers("position")[t.Place.Index]))];
            asked = new Builds.Spread.BuildJudge(builds).Asked;
            limit = builds.Voice.Voice.Limits.TrackingCents;
            Steps = builds.Sheets[oscillator].Count;
        }

        private int Steps { get; }

        /// <summary>The values that are best, by part; null when none is better than those that stand.</summary>
        public ImmutableDictionary<string, double>? Find(ref int tried)
        {
            double[][] candidates = [.. parts.Select((part, i) => Neighbours(series[i], part.Number("value")))];
            double[] best = [.. parts.Select(part => part.Number("value"))];
            double least = Score(best);
            int sets = candidates.Aggregate(1, (product, some) => (int)Math.Min(MostTried + 1L, (long)product * some.Length));
            if (sets <= MostTried)
                foreach (double[] values in All(candidates))
                    Try(values, ref best, ref least, ref tried);
            else // one after the other, round and round
                for (int round = 0; round < 4; round++)
                    for (int i = 0; i < parts.Length; i++)
                        foreach (double value in candidates[i])
                            Try([.. best.Select((own, j) => j == i ? value : own)], ref best, ref least, ref tried);
            double[] found = best;
            return found.Where((value, i) => value != parts[i].Number("value")).Any()
                ? parts.Select((part, i) => KeyValuePair.Create(part.Name, found[i])).ToImmutableDictionary()
                : null;
        }

        private void Try(double[] values, ref double[] best, ref double least, ref int tried)
        {
            tried++;
            double score = Score(values);
            if (score < least - Worthwhile)
                (best, least) = (values, score);
        }

        private static double[] Neighbours(Series series, double value)
        {
            List<double> found = [value];
            foreach (int way in (int[])[-1, 1])
            {
                double at = value;
                for (int step = 0; step < Around; step++)
                {
                    double ratio = Math.Pow(10, way * 1.0 / series.PerDecade);
                    double next = series.Nearest(at * ratio);
                    for (double push = 1.2; next == at && push < 3; push += 0.2)
                        next = series.Nearest(at * Math.Pow(ratio, push));
                    at = next;
                    if (Math.Abs(at / value - 1) <= Widest)
                        found.Add(at);
                }
            }
            return [.. found.Distinct()];
        }

        private static IEnumerable<double[]> All(double[][] candidates)
        {
            IEnumerable<ImmutableArray<double>> all = [[]];
            foreach (double[] some in candidates)
                all = all.SelectMany(start => some.Select(value => start.Add(value))).ToArray();
            return all.Select(values => values.ToArray());
        }

        // The squares of how far from the middle each trimmer stands (1 at an end), of one at its end far more, and of the tracking
        // error against its limit.
        private double Score(double[] values)
        {
            for (int i = 0; i < parts.Length; i++)
                foreach (int place in places[i])
                    departures[place] = new(values[i] / parts[i].Number("value") - 1);
            reader.Take(departures);
            reader.SetTemperature(0);
            trimmer.Run(positions);
            double score = 0;
            for (int step = 0; step < Steps; step++)
            {
                double off = 2 * (trimmer.Position(0, step) - 0.5);
                score += off * off + (trimmer.IsStuck(0, step) ? 10 : 0);
            }
            double worst = asked.Max(n => Math.Abs(reader.Cents(n).Value));
            return double.IsNaN(worst) ? double.MaxValue : score + worst * worst / (limit * limit);
        }
    }
}
