using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Budgets;
using Consort.Tests.Circuit.Published;
using Xunit;

namespace Consort.Tests.Pitch.Budgets;

/// <summary>The slopes of pitch by every parameter of every part against pitches read anew with the part really moved.</summary>
public sealed class PitchSlopesTests
{
    private const double Move = 1e-3; // either way

    // Central differences of a thousandth are good to some 1e-6 of the slope by their own curvature; half a per cent is what
    // a budget is to be trusted to.
    private const double Share = 5e-3;

    // Two readings end where periods agree to 2e-7, a 0.00035 cent.
    private const double Resolution = 5e-4; // cents

    private const double LeastEffect = 0.01; // cents: what moves pitch by less is not looked at

    [Fact]
    public void Each_part_of_the_shoestring_really_moved_does_what_its_slope_foretells() => MustForetell("shoestring", "lead", 3);

    [Theory]
    [Trait("Runs", "Long")]
    [InlineData("quartet", "lead")]
    [InlineData("quartet", "second")]
    [InlineData("pair", "lead")]
    [InlineData("pair", "second")]
    [InlineData("patched", "first")]
    [InlineData("shoestring", "lead")]
    [InlineData("shoestring", "second")]
    public void Each_part_of_an_example_really_moved_does_what_its_slope_foretells_over_the_keyboard(string example, string oscillator) =>
        MustForetell(example, oscillator, 0, 1, 3, 6, 9);

    private static void MustForetell(string example, string oscillator, params ReadOnlySpan<double> notes)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Reference.Root, "examples", example));
        PlayedVoice played = PlayedVoice.Of(voice!);
        Assert.Null(played.Prepare());
        SoloOscillator coarse = Solo(played, oscillator);
        // Runs for the differences are a hundred times tighter: at the ordinary accuracy the steps fall elsewhere with every
        // move of a part, which is 0.0003 cent.
        PlayedVoice tight = played.Twin(played.Accuracy with { Relative = played.Accuracy.Relative / 100 });
        SoloOscillator fine = Solo(tight, oscillator);
        List<string> wrong = [];
        foreach (double volts in notes)
            Compare(played, coarse, tight, fine, volts, wrong);
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    private static SoloOscillator Solo(PlayedVoice voice, string oscillator)
    {
        SoloOscillator solo = new(voice, voice.Oscillators.First(o => o.Name == oscillator));
        Assert.Null(solo.Prepare(voice.MiddleVolts));
        return solo;
    }

    private static void Compare(PlayedVoice played, SoloOscillator coarse, PlayedVoice tight, SoloOscillator fine, double volts, List<string> wrong)
    {
        ParameterPlace[] places = [.. Departures.Of(played.Circuit).Select(departure => departure.Target).Distinct()];
        PitchSlopes slopes = new(played, coarse);
        (double[]? found, _, SolveFailure? failure) = slopes.At(volts, places);
        Assert.True(found is not null, failure?.ToString());
        // The phase is kept, and the run has forgotten its start.
        Assert.InRange(slopes.Truncation, 0, Share);
        int compared = 0;
        for (int i = 0; i < places.Length; i++)
        {
            double value = places[i].Part.Bank.Numbers(places[i].Word)[places[i].Part.Index];
            double foretold = found[i] * Move * value;
            if (!(Math.Abs(foretold) > LeastEffect))
                continue;
            compared++;
            string part = places[i].Part.Bank.Parts[places[i].Part.Index].Name;
            double done = 0.5 * (Cents(tight, fine, part, places[i].Word, value * (1 + Move), volts) - Cents(tight, fine, part, places[i].Word, value * (1 - Move), volts));
            tight.Circuit[part, places[i].Word] = value;
            if (!(Math.Abs(done - foretold) < Share * Math.Abs(done) + Resolution))
                wrong.Add($"{places[i]} at {volts} V: foretold {foretold:R} cents, done {done:R}");
        }
        Assert.InRange(compared, 10, 40); // an example's pitch hangs on that many values
    }

    private static double Cents(PlayedVoice voice, SoloOscillator solo, string part, string word, double value, double volts)
    {
        voice.Circuit[part, word] = value;
        solo.TakeParameters();
        (double hertz, SolveFailure? failure) = solo.Read(volts);
        Assert.Null(failure);
        return solo.Oscillator.Cents(volts, hertz);
    }
}
