using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch;

public sealed class ReadyVoiceTests
{
    [Fact]
    public void A_picked_build_has_the_pitch_that_its_proof_reads()
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair"));
        (Proof? proof, _) = new Prover(1) { Spread = new(stock!, 0, 3), Build = 17 }.Run(voice!, null, TestContext.Current.CancellationToken);
        (PlayedVoice? played, _) = ReadyVoice.Of(voice!, voice!, new BuildPick(stock!, 17, 3), Prover.BenchKelvin, 1);
        SoloOscillator second = new(played!, played!.Oscillators[1]);
        Assert.Null(second.Prepare(played.MiddleVolts));
        (double hertz, _) = second.Read(3);
        TrackingPoint proved = proof!.Tracking.First(curve => curve.Oscillator == "second" && curve.Kelvin == Prover.BenchKelvin).Points.Single(point => point.ControlVolts == 3);
        Expect.Within(proved.Cents, second.Oscillator.Cents(3, hertz), 1e-3);
    }
}
