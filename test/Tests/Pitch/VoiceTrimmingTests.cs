using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Planning;
using Xunit;

namespace Consort.Tests.Pitch;

/// <summary>A voice trimmed by one who has trimmed others of the kind, against each trimmed from where its file has it.</summary>
public sealed class VoiceTrimmingTests
{
    [Fact]
    public void Trimming_by_a_lesson_ends_where_beginning_anew_does()
    {
        Voice voice = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet")).Voice!;
        PlayedVoice anew = Prepared(voice), onward = Prepared(voice);
        (ImmutableArray<TrimResult> results, SolveFailure? failure) = VoiceTrimming.Run(anew, 2);
        Assert.True(failure is null, failure?.ToString());
        SoloOscillator[] solos = [.. onward.Oscillators.Select(oscillator => new SoloOscillator(onward, oscillator))];
        foreach (SoloOscillator solo in solos)
            Assert.Null(solo.Prepare(onward.MiddleVolts));
        AloneReadings alone = new([2]);
        (NominalTrim[]? trims, failure) = VoiceTrimming.Run(onward, solos, oscillator => Learned(alone.Lesson(voice, oscillator.Member)));
        Assert.True(trims is not null, failure?.ToString());
        // Either may stop a hundredth of a cent short.
        foreach (TrimResult result in results)
        {
            string trimmer = $"{result.Oscillator}/{result.Trimmer}";
            double apart = onward.Circuit[trimmer, "position"] - result.Position;
            Assert.Equal(0, apart * onward.Circuit[trimmer, "turns"] * result.CentsPerTurn, 0.025);
        }
        foreach (SoloOscillator solo in solos)
            foreach (TrimStep step in solo.Oscillator.Member.Module.Trims.Where(step => step.Purpose == TrimPurpose.Centre))
                Assert.Equal(0, solo.Oscillator.Cents(step.High, solo.Read(step.High).Hertz), 0.02);
    }

    [Theory]
    [InlineData("quartet")]
    [InlineData("pair")]
    public void What_a_trim_says_is_left_is_what_is_read_there(string example)
    {
        PlayedVoice voice = Prepared(VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example)).Voice!);
        SoloOscillator solo = new(voice, voice.Oscillators[0]);
        Assert.Null(solo.Prepare(voice.MiddleVolts));
        NominalTrim trim = new(voice, solo);
        Assert.Null(trim.Run().Failure);
        double[] asked = [.. solo.Oscillator.Member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other).SelectMany(step => step.Voltages).Distinct()];
        // A tenth of what a trim leaves unread, and a reading's own 0.0003 cent.
        foreach (double volts in asked)
            Assert.Equal(solo.Oscillator.Cents(volts, solo.Read(volts).Hertz), trim.Left(volts)!.Value, 0.0015);
        Assert.Null(trim.Left(2.345));
    }

    [Fact]
    public void What_others_trims_move_is_seen_when_one_looks_again()
    {
        // Four on one link without a buffer: whoever is trimmed last moves those before.
        PlayedVoice voice = Prepared(VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "shoestring")).Voice!);
        SoloOscillator[] solos = [.. voice.Oscillators.Select(oscillator => new SoloOscillator(voice, oscillator))];
        foreach (SoloOscillator solo in solos)
            Assert.Null(solo.Prepare(voice.MiddleVolts));
        (NominalTrim[]? trims, SolveFailure? failure) = VoiceTrimming.Run(voice, solos, _ => null);
        Assert.True(trims is not null, failure?.ToString());
        double[] read = [.. solos.Select(solo => solo.Oscillator.Cents(1, solo.Read(1).Hertz))];
        Assert.True(trims.Zip(read).Max(pair => Math.Abs(pair.First.Left(1)!.Value - pair.Second)) > 0.02);
        foreach (NominalTrim trim in trims)
            Assert.Null(trim.LookAgain());
        Assert.All(trims.Zip(read), pair => Assert.Equal(pair.Second, pair.First.Left(1)!.Value, 0.002));
    }

    private static TrimLesson Learned(TrimLesson? lesson)
    {
        Assert.NotNull(lesson);
        return lesson;
    }

    private static PlayedVoice Prepared(Voice voice)
    {
        PlayedVoice played = PlayedVoice.Of(voice, TestContext.Current.CancellationToken);
        Assert.Null(played.Prepare());
        return played;
    }
}
