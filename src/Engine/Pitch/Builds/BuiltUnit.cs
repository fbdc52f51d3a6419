using System.Collections.Immutable;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Trimming;

namespace Consort.Engine.Pitch.Builds;

/// <summary>One trimmed build, as thousands are made, to be looked at by itself.</summary>
/// <param name="Voice">Its whole circuit, every part as drawn and every trimmer as it was set.</param>
/// <param name="Trims">Where the trimmers stand.</param>
/// <param name="Cents">Pitch errors as the study has them, by oscillator, temperature and note.</param>
internal sealed record BuiltUnit(PlayedVoice Voice, ImmutableArray<TrimResult> Trims, double[][][] Cents)
{
    private double[] Volts { get; init; } = [];

    /// <summary>Makes a build by its number. It is made in the same company as in a study.</summary>
    public static BuiltUnit Make(VoiceBuilds builds, UnitPoints points, long number)
    {
        BuildBench<Four> bench = new(builds);
        double[] drawn = new double[builds.Draws.Parameters.Length * Four.Count];
        int lane = (int)(number % Four.Count);
        builds.Draws.Departures(points, number - lane, Four.Count, drawn);
        bench.Run(drawn, Four.Count, 0);
        PlayedVoice voice = BuiltVoice.Make(builds.Voice, builds.AllDraws, points, number, builds.Paths.Trimmers, bench.PositionsOf(lane));
        double[][][] cents =
        [
            .. builds.Laws.Select((_, o) => builds.Kelvins.Select((_, k) => builds.Volts.Select((_, n) => bench.Cents(o, k, n, lane)).ToArray()).ToArray()),
        ];
        return new(voice, Trimmed(builds, bench, lane), cents) { Volts = builds.Volts };
    }

    /// <summary>Where the trimmers of one build on a bench came to stand.</summary>
    public static ImmutableArray<TrimResult> Trimmed(VoiceBuilds builds, BuildBench<Four> bench, int lane) =>
        [.. builds.Sheets.SelectMany((sheet, o) => Results(builds, sheet, o, bench.Trimmers[o], lane))];

    private static IEnumerable<TrimResult> Results(VoiceBuilds builds, TrimSheet sheet, int o, BuildTrimmer<Four> trimmer, int lane)
    {
        for (int step = 0; step < sheet.Count; step++)
        {
            double position = trimmer.Position(lane, step);
            double octaves = sheet.LowNotes[step] < 0 ? 1 : (sheet.Steps[step].High - sheet.Steps[step].Low) / builds.Voice.Oscillators[o].Spec.VoltsPerOctave;
            double slope = sheet.Slopes[step * sheet.Count + step] / sheet.Turns[step] / octaves;
            string name = builds.Voice.Oscillators[o].Name;
            yield return new(name, sheet.Steps[step].Trimmer, sheet.Steps[step].Purpose, position, 2 * Math.Abs(position - 0.5), slope, !trimmer.IsStuck(lane, step));
        }
    }

    /// <summary>How far the study's figures lie from its transients.</summary>
    public AccuracyNote Against(IReadOnlyList<OscillatorSheet> sheets)
    {
        double worst = 0;
        for (int o = 0; o < sheets.Count; o++)
            for (int k = 0; k < sheets[o].Curves.Length; k++)
                foreach (TrackingPoint point in sheets[o].Curves[k].Points)
                    worst = Math.Max(worst, Math.Abs(point.Cents - Cents[o][k][Array.IndexOf(Volts, point.ControlVolts)]));
        return new("this build by pitch path and core law", worst, "cents", "its transients at every note and temperature");
    }
}
