using Consort.Engine.Bench.Tones;

namespace Consort.Engine.Bench.Recordings;

/// <summary>A stretch of a recording in which one note stands still.</summary>
/// <param name="Start">Its first sample.</param>
/// <param name="Count">How many.</param>
internal readonly record struct NoteSpan(int Start, int Count)
{
    /// <summary>The sample after its last.</summary>
    public int End => Start + Count;
}

/// <summary>
/// Finds the notes of a recording by themselves: stretches in which the pitch stands still, then grown outwards as long
/// as the note's own fit still foretells the samples. So a note ends where the next voltage, the silence or a slide begins.
/// </summary>
internal static class NoteFinder
{
    private const int LeastFrames = 7; // a third of a second, with the frame itself
    private const double Still = 3; // cents
    private const double StillLines = 0.03; // or so much of a line's width: low notes are read more roughly
    private const double ChunkSeconds = 0.01;
    private const double Surprise = 3; // times the noise of the note's middle
    private const double SurpriseShare = 0.01; // of the note itself: drift and slow settling are still the note

    /// <summary>The stretches in which anything sounds, for notes that beat and so never stand still.</summary>
    public static List<NoteSpan> Sounding(double[] samples, double rate)
    {
        PitchContour contour = PitchContour.Of(samples, rate);
        List<NoteSpan> stretches = [];
        int first = 0;
        for (int frame = 0; frame <= contour.Sounds.Length; frame++)
        {
            if (frame < contour.Sounds.Length && contour.Sounds[frame])
                continue;
            if (frame - first >= LeastFrames)
                stretches.Add(new(contour.Middle(first), contour.Middle(frame - 1) - contour.Middle(first) + 1));
            first = frame + 1;
        }
        return stretches;
    }

    /// <summary>The notes in their order.</summary>
    public static List<NoteSpan> Find(double[] samples, double rate)
    {
        PitchContour contour = PitchContour.Of(samples, rate);
        List<NoteSpan> notes = [];
        int frame = 0;
        while (frame < contour.Hertz.Length)
        {
            int end = RunEnd(contour, frame);
            if (end - frame < LeastFrames)
            {
                frame++;
                continue;
            }
            int from = notes.Count > 0 ? notes[^1].End : 0;
            NoteSpan run = new(contour.Middle(frame), contour.Middle(end - 1) - contour.Middle(frame) + 1);
            if (run.Start > from || run.End - from > contour.Frame)
                notes.Add(Grown(samples, rate, run, from, contour.Frame));
            frame = end;
        }
        return notes;
    }

    // The frames from the first on whose pitch stays by the run's own median.
    private static int RunEnd(PitchContour contour, int first)
    {
        List<double> run = [];
        int frame = first;
        for (; frame < contour.Hertz.Length && !double.IsNaN(contour.Hertz[frame]); frame++)
        {
            if (run.Count > 0)
            {
                double median = run[run.Count / 2];
                double tolerance = Math.Max(Still, 1200 / Math.Log(2) * StillLines * contour.BinHertz / median);
                if (Math.Abs(1200 * Math.Log2(contour.Hertz[frame] / median)) > tolerance)
                    break;
            }
            int place = run.BinarySearch(contour.Hertz[frame]);
            run.Insert(place < 0 ? ~place : place, contour.Hertz[frame]);
        }
        return frame;
    }

    // A frame that reaches into the next note may still look like this one, above all when that is an octave up: only
    // the middle of the run is trusted.
    private static NoteSpan Grown(double[] samples, double rate, NoteSpan run, int from, int frame)
    {
        const int LongestFit = 1 << 16; // samples: more would not foretell the edges better
        int trusted = Math.Max(run.Count / 2, run.Count - frame);
        int count = Math.Min(trusted, LongestFit), start = run.Start + (run.Count - count) / 2;
        FoldedSignal signal = new(samples.AsSpan(start, count));
        if (ToneEstimator.Guess(signal.Samples, 0) is not { } guess
            || ToneFit.One(signal, guess, ToneEstimator.Hums(Mains.Either, rate)) is not { } fit)
            return run;
        // The fit reaches as far to both sides as either needs.
        int lowest = Math.Max(from, run.Start - frame), highest = Math.Min(samples.Length, run.End + frame);
        int reach = Math.Max(start - lowest, highest - start - count);
        double[] foretold = new double[count + 2 * reach];
        fit.AddTo(foretold, 1);
        double limit = Math.Max(Surprise * Math.Sqrt(fit.Variance), SurpriseShare * Math.Sqrt(signal.Energy / count));
        double period = 2 * Math.PI / fit.Series[0].Omega;
        int chunk = (int)Math.Max(ChunkSeconds * rate, 1.5 * period);
        double Stray(int at)
        {
            double squares = 0;
            for (int i = at; i < at + chunk; i++)
            {
                double off = samples[i] - signal.Mean - foretold[i - start + reach];
                squares += off * off;
            }
            return Math.Sqrt(squares / chunk);
        }
        int left = start, right = start + count;
        while (left - chunk >= lowest && Stray(left - chunk) < limit)
            left -= chunk;
        while (right + chunk <= highest && Stray(right) < limit)
            right += chunk;
        return new(left, right - left);
    }
}
