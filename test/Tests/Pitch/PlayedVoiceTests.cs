using Consort.Engine.Pitch;
using Xunit;

namespace Consort.Tests.Pitch;

public sealed class PlayedVoiceTests
{
    [Theory]
    [InlineData(1, -11.8811881)]
    [InlineData(2, -23.5294118)]
    [InlineData(3, -34.9514563)]
    public void Equal_inputs_on_one_source_cost_the_published_cents_per_volt(int inputs, double centsPerVolt)
    {
        // checks B1 (Thévenin; Desoer & Kuh 1969; from memory): 1 kΩ into n inputs of 100 kΩ, error per volt of CV.
        // Contacts of jacks and cords (0.1 Ω of 1 kΩ) are 0.001 cent a volt; the fixed reset time cancels in the difference
        // of two notes only to first order, so the period that it adds is taken from a note at 0 V.
        PlayedVoice voice = PlayedVoice.Of(ToyVoice.OnMultiple(inputs, ToyVoice.Oscillator("toy", "100k")), TestContext.Current.CancellationToken);
        Assert.Null(voice.Prepare());
        SoloOscillator solo = new(voice, voice.Oscillators[0]);
        Assert.Null(solo.Prepare(2));
        double low = Cents(solo, 0);
        double high = Cents(solo, 1);
        Assert.Equal(centsPerVolt, high - low, 0.02);
    }

    [Fact]
    public void An_oscillator_by_itself_reads_as_it_does_in_the_whole_voice_in_motion()
    {
        PlayedVoice voice = PlayedVoice.Of(ToyVoice.OnMultiple(2, ToyVoice.Oscillator("toy", "100k")), TestContext.Current.CancellationToken);
        Assert.Null(voice.Prepare());
        (VoiceReading? whole, _) = voice.Read(2);
        SoloOscillator solo = new(voice.Twin(), voice.Oscillators[1]);
        Assert.Null(solo.Prepare(2));
        (double alone, _) = solo.Read(2);
        // 0.01 cent is what a proof of this size would round to.
        Assert.Equal(0, 1200 * Math.Log2(whole!.Hertz[1] / alone), 0.01);
    }

    private static double Cents(SoloOscillator solo, double volts)
    {
        (double hertz, Engine.Circuit.SolveFailure? failure) = solo.Read(volts);
        Assert.Null(failure);
        return solo.Oscillator.Cents(volts, hertz);
    }
}
