using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Planning;
using Xunit;

namespace Consort.Tests.Planning;

/// <summary>Oscillators within a voice against themselves alone.</summary>
public sealed class AloneReadingsTests
{
    [Theory]
    [InlineData("quartet")]
    [InlineData("patched")]
    public void What_the_voice_moves_most_it_moves_at_an_end_of_the_keyboard(string example)
    {
        Voice voice = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example)).Voice!;
        double[] notes = Prover.BudgetNotes(voice);
        PlayedVoice played = PlayedVoice.Of(voice, TestContext.Current.CancellationToken);
        Assert.Null(played.Prepare());
        AloneReadings alone = new(notes);
        foreach (Oscillator oscillator in played.Oscillators)
        {
            SoloOscillator solo = new(played, oscillator);
            Assert.Null(solo.Prepare(played.MiddleVolts));
            double[] moved = [.. solo.Read(notes).Hertz!.Zip(alone.Hertz(voice, oscillator.Member).Hertz!, (here, there) => Math.Abs(1200 * Math.Log2(here / there)))];
            // Readings are as near as 0.0003 cent.
            Assert.True(Math.Max(moved[0], moved[^1]) > moved.Max() - 0.001, $"{oscillator.Name}: {string.Join(' ', moved)}");
            Assert.True(moved.Max() > 0.01);
        }
    }

    [Fact]
    public void A_lesson_does_not_hang_on_who_asks_first()
    {
        Voice voice = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet")).Voice!;
        Member[] followers = [.. voice.Members.Where(member => voice.IsFollower(member.Name))];
        TrimLesson first = new AloneReadings([2]).Lesson(voice, followers[0])!, last = new AloneReadings([2]).Lesson(voice, followers[^1])!;
        Assert.Equal(first.Positions, last.Positions);
        Assert.Equal(first.Cents, last.Cents);
        Assert.Equal(first.Amperes, last.Amperes);
    }
}
