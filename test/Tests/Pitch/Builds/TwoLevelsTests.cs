using System.Diagnostics;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Xunit;

namespace Consort.Tests.Pitch.Builds;

public sealed class TwoLevelsTests
{
    [Theory]
    [InlineData("pair")]
    [InlineData("quartet")]
    public void Trimmed_builds_agree_with_full_transients(string example)
    {
        Stopwatch clock = Stopwatch.StartNew();
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example));
        PlayedVoice played = PlayedVoice.Of(voice!);
        Assert.Null(played.Prepare());
        (_, SolveFailure? failure) = VoiceTrimming.Run(played, 2);
        Assert.Null(failure);
        Log($"{example} trimmed {clock.Elapsed.TotalSeconds:F2}");
        if (example == "quartet")
        {
            for (double th = -10; th <= -3; th += 0.5)
            {
                PlayedVoice twin = played.Twin();
                string sign = twin.Circuit["lead/Q3", "threshold"].ToString();
                twin.Circuit["lead/Q3", "threshold"] = th; twin.Circuit["lead/Q3", "transconductance"] *= -6.5 / th;
                SoloOscillator solo = new(twin, twin.Oscillators[0]);
                solo.Prepare(twin.MiddleVolts);
                Log($"{sign} {th} " + string.Join(" ", ((double[])[1, 4, 7]).Select(v => solo.Oscillator.Cents(v, solo.Read(v).Hertz).ToString("F3"))));
            }
        }
        DesignReadings readings = new(played, [298.15, 288.15, 308.15], Prover.Notes(voice!));
        Assert.Null(readings.Complete(played, 2));
        Log($"read {clock.Elapsed.TotalSeconds:F2}");
        (VoiceBuilds? builds, failure) = VoiceBuilds.Find(played, stock!, readings, 2);
        Assert.Null(failure);
        Log($"ready {clock.Elapsed.TotalSeconds:F2}");
        foreach (var law in builds!.Laws)
        {
            Log($"pairs {string.Join(", ", law.Pairs.Select(p => $"{p.First} {p.Second} {p.Coefficients[3]}"))}");
            Log($"{law.Oscillator.Name}: core parameters {law.Parameters.Length}, trimmers {law.Trimmers.Length}");
            foreach (var m in law.Movers)
                Log($"  mover {(m.Phi < law.Drawn.Length ? law.Drawn[m.Phi].Part.Name + " " + law.Drawn[m.Phi].Word : "trimmer")} crosses {m.Others[3].First.Any(x => x != 0)} curved {m.Others[3].Second.Any(x => x != 0)} own " + string.Join(" ", m.Own[2].Select(x => x.ToString("F3"))));
        }
        SobolPoints points = SobolPoints.Scrambled(builds.Draws.Variates.Length, 1);
        BuildBench<Four> bench = new(builds);
        const int Count = 8;
        double[] drawn = new double[builds.Draws.Parameters.Length * Count];
        builds.Draws.Departures(points, 0, Count, drawn);
        double[] worst = new double[builds.Volts.Length];
        for (int first = 0; first < Count; first += 4)
        {
            bench.Run(drawn, Count, first);
            for (int lane = 0; lane < 4; lane++)
            {
                double[] positions = new double[builds.Paths.Trimmers.Length];
                for (int o = 0; o < builds.Sheets.Length; o++)
                    for (int s = 0; s < builds.Sheets[o].Count; s++)
                        positions[builds.Sheets[o].Trimmers[s]] = bench.Trimmers[o].Position(lane, s);
                PlayedVoice built = BuiltVoice.Make(played, builds.Paths.Draws, points, first + lane, builds.Paths.Trimmers, positions);
                for (int o = 0; o < builds.Laws.Length; o++)
                    for (int k = 0; k < 3; k++)
                    {
                        (double[] cents, SolveFailure? f) = BuiltVoice.Read(built, o, builds.Kelvins[k], builds.Volts);
                        Assert.Null(f);
                        double[] off = [.. cents.Select((c, n) => bench.Cents(o, k, n, lane) - c)];
                        Log($"{first + lane} {builds.Laws[o].Oscillator.Name} {builds.Kelvins[k]}: " + string.Join(" ", off.Select(x => x.ToString("F3"))) + $"   pitch {string.Join(" ", cents.Select(x => x.ToString("F2")))} ");
                        for (int n = 0; n < off.Length; n++)
                            worst[n] = Math.Max(worst[n], Math.Abs(off[n]));
                    }
                if (first == 0)
                    Log("positions " + string.Join(" ", positions.Select(x => x.ToString("F4"))) + " rounds " + bench.Trimmers.Sum(t => t.Rounds));
            }
        }
        Log("worst " + string.Join(" ", worst.Select(x => x.ToString("F3"))));
        Log($"checked {clock.Elapsed.TotalSeconds:F2}");
        long start = Stopwatch.GetTimestamp();
        const int Many = 4096;
        drawn = new double[builds.Draws.Parameters.Length * Many];
        builds.Draws.Departures(points, 0, Many, drawn);
        Log($"drawing {Stopwatch.GetElapsedTime(start).TotalMicroseconds / Many:F2} us a build of {builds.Draws.Parameters.Length}");
        for (int again = 0; again < 3; again++)
        {
        long before = bench.Trimmers.Sum(t => t.Rounds);
        start = Stopwatch.GetTimestamp();
        for (int first = 0; first < Many; first += 4)
            bench.Run(drawn, Many, first);
        Log($"{Stopwatch.GetElapsedTime(start).TotalMicroseconds / Many:F2} us a build, rounds {(bench.Trimmers.Sum(t => t.Rounds) - before) / (Many / 4.0) / builds.Laws.Length:F2}");
        }
    }

    #pragma warning disable CS0162
    private static void Log(string text) => File.AppendAllText("/tmp/own-two.log", text + "\n");
}
