using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.PitchPath;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch.Builds.PitchPath;

public sealed class VoicePathsTests
{
    private static readonly double[] Temperatures = [298.15, 288.15, 308.15];

    [Theory]
    [InlineData("pair")]
    [InlineData("quartet")]
    [InlineData("patched")]
    [InlineData("shoestring")]
    public void Builds_in_lanes_have_the_timing_currents_of_the_whole_circuit(string example)
    {
        // The whole circuit at rest, solved by Newton's method on hundreds of unknowns, with trimmers up to 0.3 turn off and
        // every part drawn: pitches up to 480 cents away. Asked of the two levels together are 0.1 cent.
        (VoicePaths paths, _) = Paths(Example(example));
        (double cents, SolveFailure? failure) = paths.Disagreement(SobolPoints.Scrambled(paths.Draws.Variates.Length, 11), 5);
        Assert.Null(failure);
        Assert.True(cents < 0.03, $"{cents:G3} cents");
    }

    [Fact]
    public void A_build_has_the_same_bits_alone_and_in_any_company()
    {
        (VoicePaths paths, _) = Paths(Example("pair"));
        PathPlan plan = paths.Plans[1];
        PathKernel<Four> four = paths.Kernel<Four>(1);
        PathKernel<One> one = paths.Kernel<One>(1);
        DrawPlan draws = paths.Draws.Of(plan.Reach.Parameters);
        double[] departures = new double[draws.Parameters.Length * 4];
        double[] lanes = new double[4];
        draws.Departures(SobolPoints.Scrambled(2000, 3), 8, 4, departures);
        Four[] positions = [.. paths.Trimmers.Select((_, t) => Four.From([0.3, 0.5, 0.6, 0.45 + 0.01 * t]))];
        four.Take([.. Enumerable.Range(0, draws.Parameters.Length).Select(p => Four.From(departures.AsSpan(p * 4, 4)))]);
        four.SetTemperature(2);
        four.Turn(positions);
        double[][] read = [.. Enumerable.Range(0, plan.Volts.Length).Select(n => Read(four, n))];
        for (int lane = 0; lane < 4; lane++)
        {
            one.Take([.. Enumerable.Range(0, draws.Parameters.Length).Select(p => new One(departures[p * 4 + lane]))]);
            one.SetTemperature(2);
            one.Turn([.. positions.Select(p => LaneOf(p, lane))]);
            one.Forget();
            for (int n = 0; n < plan.Volts.Length; n++)
                Assert.Equal(read[n][lane], one.Read(n).Value);
        }

        double[] Read(PathKernel<Four> kernel, int n)
        {
            Four.Store(kernel.Read(n), lanes);
            return [.. lanes];
        }
        One LaneOf(Four value, int lane)
        {
            Four.Store(value, lanes);
            return new(lanes[lane]);
        }
    }

    [Fact]
    public void A_divider_into_an_exponential_law_moves_by_what_the_divider_says()
    {
        // I ∝ 2^v with v = V·R/(R + 1 kΩ) and R = 100 kΩ·(1 + d): 1200·V·(R/(R + 1k) − 100/101) cents.
        (VoicePaths paths, PlayedVoice voice) = Paths(ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "100k")), [0, 1, 2, 3, 4]);
        PathKernel<One> kernel = paths.Kernel<One>(0);
        int place = Array.FindIndex([.. paths.Plans[0].Parameters], p => p.Part.Name == "o1/R1");
        Assert.True(place >= 0);
        One[] departures = new One[paths.Plans[0].Parameters.Length];
        departures[place] = new(0.01);
        kernel.Take(departures);
        kernel.SetTemperature(0);
        kernel.Turn([]);
        for (int n = 0; n < 5; n++)
            Expect.Within(1200 * n * (101.0 / 102 - 100.0 / 101), Engine.Quantities.Cents.PerNeper * kernel.Read(n).Value, 1e-3);
        Assert.Single(voice.Oscillators);
    }

    private static Voice Example(string name) => VoiceFolder.Read(Path.Combine(Golden.Root, "examples", name)).Voice!;

    private static (VoicePaths Paths, PlayedVoice Voice) Paths(Voice voice, double[]? volts = null)
    {
        PlayedVoice played = PlayedVoice.Of(voice);
        Assert.Null(played.Prepare());
        (VoicePaths? paths, SolveFailure? failure) = VoicePaths.Find(played, Stock.Empty, Temperatures, volts ?? [0, 1, 3, 5, 7, 9]);
        Assert.True(paths is not null, failure?.ToString());
        return (paths, played);
    }
}
