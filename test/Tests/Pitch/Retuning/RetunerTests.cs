using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Retuning;
using Xunit;

namespace Consort.Tests.Pitch.Retuning;

public sealed class RetunerTests
{
    // The law sees 1.25·s·V, s = (80k + p·20k)/(1k + R7 + 80k + p·20k): 1 V an octave asks for s = 0.8.
    private static double Stand(double r7) => (0.8 * (81 + r7) - 80) / (20 * 0.2);

    [Theory]
    [InlineData("18k", 22e3)]
    [InlineData("27k", 22e3)]
    [InlineData("22k", 22e3)]
    public void A_free_resistor_becomes_the_preferred_value_that_centres_the_trimmer(string written, double wanted)
    {
        string module = ToyVoice.Oscillator(
            "toy",
            "10M",
            "free: [R7]\ntrims:\n  - {trimmer: RV1, for: tracking, low: 0 V, high: 3 V}",
            $"R7: {{resistor: {written}, tolerance: 10%, from: in, to: scaled}}\n  R8: {{resistor: 80k, from: foot, to: 0 V}}\n  RV1: {{trimmer: 20k, resolution: 0.01%, turns: 20, position: 50%, ccw: foot, wiper: scaled}}",
            "1.25"
        );
        (Engine.Pitch.Retuning.Retuning? found, Unproved? why) = new Retuner(1).Run(ToyVoice.OnMultiple(1, module), null, TestContext.Current.CancellationToken);
        Assert.True(found is not null, why?.What);
        RetunedValue value = Assert.Single(found.Values);
        Assert.Equal(("E12", wanted), (value.Series, value.After));
        // 10 MΩ beside the divider takes 0.01 % of the source's share: a hundredth of a turn.
        Assert.Equal(Stand(22), found.Oscillators[0].After[0].Position, 0.02);
    }
}
