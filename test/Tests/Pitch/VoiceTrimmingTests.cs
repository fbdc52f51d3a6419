using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Xunit;

namespace Consort.Tests.Pitch;

/// <summary>A voice trimmed by one who goes on from the last of a kind, against each trimmed from where its file has it.</summary>
public sealed class VoiceTrimmingTests
{
    [Fact]
    public void Going_on_from_the_last_of_a_kind_ends_where_beginning_anew_does()
    {
        Voice voice = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet")).Voice!;
        PlayedVoice anew = Prepared(voice), onward = Prepared(voice);
        (ImmutableArray<TrimResult> results, SolveFailure? failure) = VoiceTrimming.Run(anew, 2);
        Assert.True(failure is null, failure?.ToString());
        SoloOscillator[] solos = [.. onward.Oscillators.Select(oscillator => new SoloOscillator(onward, oscillator))];
        foreach (SoloOscillator solo in solos)
            Assert.Null(solo.Prepare(onward.MiddleVolts));
        Assert.Null(VoiceTrimming.Run(onward, solos));
        // A hundredth of a turn of these trimmers of 25 turns is 0.3 cents and more; they came within 0.01 cent.
        foreach (TrimResult result in results)
            Assert.Equal(result.Position, onward.Circuit[$"{result.Oscillator}/{result.Trimmer}", "position"], 5e-4);
        foreach (SoloOscillator solo in solos)
            foreach (TrimStep step in solo.Oscillator.Member.Module.Trims.Where(step => step.Purpose == TrimPurpose.Centre))
                Assert.Equal(0, solo.Oscillator.Cents(step.High, solo.Read(step.High).Hertz), 0.02);
    }

    private static PlayedVoice Prepared(Voice voice)
    {
        PlayedVoice played = PlayedVoice.Of(voice, TestContext.Current.CancellationToken);
        Assert.Null(played.Prepare());
        return played;
    }
}
