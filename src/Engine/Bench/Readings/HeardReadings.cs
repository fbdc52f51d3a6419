using Consort.Engine.Bench.Recordings;
using Consort.Engine.Bench.Tones;
using Consort.Engine.Bench.Waveforms;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Quantities;

namespace Consort.Engine.Bench.Readings;

/// <summary>Reads a recording of held notes, and of slides between them, at known control voltages.</summary>
internal sealed class HeardReadings(Recording recording, PitchSpec law, ReadingOptions options, RecorderClock clock, ErrorList errors)
{
    private const double NearOctave = 300; // cents: a unit further off than that may stand at another octave

    private readonly double perHertz = recording.Rate / (2 * Math.PI);

    private sealed record Found(NoteSpan Span, HeardNote Note, double Hertz, double Uncertainty);

    /// <summary>The readings in their order.</summary>
    public List<UnitReading> Read()
    {
        List<NoteSpan> spans = options.Pair ? NoteFinder.Sounding(recording.Samples, recording.Rate) : NoteFinder.Find(recording.Samples, recording.Rate);
        List<Found> notes = [.. spans.Select(One).OfType<Found>()];
        if (notes.Count == 0)
        {
            errors.Add(ErrorCodes.NoNote, Place, $"{recording.File} holds no steady note", "hold each note for half a second or more; look at level, cable and channel");
            return [];
        }
        if (Controls(notes) is not { } controls)
            return [];
        List<UnitReading> readings = [];
        for (int i = 0; i < notes.Count; i++)
        {
            readings.Add(Reading(controls[i], options.ControlWithin / Math.Sqrt(3), notes[i].Hertz, notes[i].Uncertainty, notes[i].Note));
            if (i + 1 < notes.Count && !options.Pair)
                readings.AddRange(Between(notes[i], notes[i + 1], controls[i], controls[i + 1]));
        }
        return readings;
    }

    private SourceSpan Place => new(recording.File, 0, 0, 0);

    private Found? One(NoteSpan span)
    {
        ReadOnlySpan<double> samples = recording.Samples.AsSpan(span.Start, span.Count);
        double start = span.Start / recording.Rate, length = span.Count / recording.Rate;
        if (options.Pair)
        {
            (PairReading? pair, string? why) = ToneEstimator.Pair(samples, recording.Rate, options.Mains, recording.Step);
            if (pair is null)
                errors.Note(ErrorCodes.NoNote, Place, $"{recording.File} at {start:0.00} s: {why}", "the note is left out");
            return pair is null ? null : new(span, new(start, length, pair.Low, null, pair), pair.Low.Frequency.Value, pair.Low.Uncertainty);
        }
        (ToneReading? tone, string? reason) = ToneEstimator.One(samples, recording.Rate, options.Mains, recording.Step);
        if (tone is null)
            errors.Note(ErrorCodes.NoNote, Place, $"{recording.File} at {start:0.00} s: {reason}", "the note is left out");
        return tone is null ? null : new(span, new(start, length, tone, WaveAnalysis.Of(tone, options.FullScaleVolts), null), tone.Frequency.Value, tone.Uncertainty);
    }

    private double[]? Controls(List<Found> notes)
    {
        if (options.Controls is { } written)
        {
            if (written.Count == notes.Count)
                return [.. written];
            errors.Add(ErrorCodes.NoteCount, Place, $"{recording.File} has {notes.Count} notes where {written.Count} control voltages are named",
                $"found: {string.Join(", ", notes.Select(Words))}");
            return null;
        }
        double[] near = [.. notes.Select(note => Math.Round(Octaves(note)))];
        for (int i = 0; i < notes.Count; i++)
            if (1200 * Math.Abs(Octaves(notes[i]) - near[i]) > NearOctave)
            {
                errors.Add(ErrorCodes.UnplacedNote, Place, $"{recording.File}: {Words(notes[i])} is near no whole octave of the law",
                    "name the control voltages: --control \"0 V, 1 V, 2 V\"");
                return null;
            }
        return [.. near.Select(octave => law.ReferenceVoltage + octave * law.VoltsPerOctave)];
    }

    private double Octaves(Found note) => Math.Log2(clock.Ratio * note.Hertz / law.ReferenceFrequency);

    private static string Words(Found note) => $"{Figures.Hertz(note.Hertz)} Hz at {note.Note.Start:0.00} s";

    // Quarters of an octave along a slide: its control voltage ramps evenly from one note's to the next one's.
    private IEnumerable<UnitReading> Between(Found from, Found to, double low, double high)
    {
        double before = from.Hertz / perHertz, after = to.Hertz / perHertz, step = 0.25 * law.VoltsPerOctave;
        if (high == low || Glide.Between(recording.Samples, recording.Rate, from.Span, to.Span, before, after) is not { } glide)
            yield break;
        double edge = (high - low) * glide.EdgeUncertainty / (glide.End - glide.Start);
        double control = Math.Sqrt(edge * edge + options.ControlWithin * options.ControlWithin / 3);
        List<double> shares = [];
        for (double volts = Math.Ceiling(Math.Min(low, high) / step + 1e-9) * step; volts < Math.Max(low, high) - 1e-9; volts += step)
            shares.Add((volts - low) / (high - low));
        foreach ((double share, GlideFit fit) in glide.Read(recording.Samples, recording.Rate, Math.Min(before, after), shares.Order()))
        {
            double at = (glide.Start + share * (glide.End - glide.Start)) / recording.Rate;
            yield return Reading(low + share * (high - low), control, fit.Omega * perHertz, fit.Uncertainty * perHertz, new(at, 0, null, null, null));
        }
    }

    private UnitReading Reading(double control, double controlUncertainty, double hertz, double uncertainty, HeardNote note) =>
        new(new(control), controlUncertainty, new(clock.Ratio * hertz), clock.Ratio * uncertainty, options.Kelvin, $"{recording.File} at {note.Start:0.00} s") { Heard = note };
}
