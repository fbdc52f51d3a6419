using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Sound.Playing;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class ScoreTests
{
    private static Score Midi(string name, int? channel = null)
    {
        (Score? score, WordFault? fault) = MidiFile.Read(File.ReadAllBytes(Path.Combine(Golden.Root, "test", "Reference", "midi", name)), channel);
        Assert.Null(fault);
        return score!;
    }

    private static void Same(Score score, params (double Seconds, double? Key)[] touches)
    {
        Assert.Equal(touches.Length, score.Touches.Length);
        for (int i = 0; i < touches.Length; i++)
        {
            Expect.Within(touches[i].Seconds, score.Touches[i].Seconds, 1e-9);
            Assert.Equal(touches[i].Key, score.Touches[i].Key);
        }
    }

    [Fact]
    public void A_note_list_is_played_note_after_note()
    {
        (Score? score, ImmutableArray<WordFault> faults) = Score.Read(["A2 1 s", "rest 200 ms", "C#3 0.5 s"]);
        Assert.Empty(faults);
        Same(score!, (0, 45), (1, null), (1.2, 49), (1.7, null));
        Assert.Equal(1.7, score!.Seconds, 1e-12);
    }

    [Fact]
    public void All_faults_of_a_note_list_are_told()
    {
        (Score? score, ImmutableArray<WordFault> faults) = Score.Read(["H2 1 s", "A2", "A2 1 Hz", "C3 -1 s"]);
        Assert.Null(score);
        Assert.Equal(4, faults.Length);
    }

    // The files were written by mido 1.2.10, whose own reader gave the times (test/Reference/midi/write.py).
    [Fact]
    public void A_file_of_one_track_with_running_status_and_a_change_of_tempo_is_played_in_time() =>
        Same(Midi("scale.mid"), (0, 57), (0.5, null), (0.5, 60), (1.25, null), (1.25, 64), (2.25, null));

    [Fact]
    public void The_last_key_of_those_held_sounds_and_a_bend_moves_it_by_its_stated_range() =>
        Same(Midi("two-tracks.mid"), (0, 48), (0.4, 55), (0.8, 48), (1.0, 54), (1.2, null), (4.0, 90), (4.4, null));

    [Fact]
    public void One_channel_can_be_played_alone() => Same(Midi("two-tracks.mid", 6), (4.0, 90), (4.4, null));

    [Fact]
    public void Time_in_frames_is_read()
    {
        // 25 frames of 40 ticks (E7 28 hex): a thousandth of a second each.
        byte[] file = [.. "MThd"u8, 0, 0, 0, 6, 0, 0, 0, 1, 0xE7, 0x28, .. "MTrk"u8, 0, 0, 0, 13, 0, 0x90, 69, 64, 0x83, 0x74, 0x80, 69, 0, 0, 0xFF, 0x2F, 0];
        (Score? score, WordFault? fault) = MidiFile.Read(file);
        Assert.Null(fault);
        Same(score!, (0, 69), (0.5, null));
    }

    [Fact]
    public void A_file_that_is_cut_off_anywhere_is_told_and_breaks_nothing()
    {
        byte[] whole = File.ReadAllBytes(Path.Combine(Golden.Root, "test", "Reference", "midi", "two-tracks.mid"));
        for (int length = 0; length < whole.Length - 1; length++)
        {
            (Score? score, WordFault? fault) = MidiFile.Read(whole[..length]);
            Assert.True(score is null == fault is not null);
        }
    }

    [Fact]
    public void Any_bytes_are_read_or_refused()
    {
        Random random = new(20250611);
        byte[] whole = File.ReadAllBytes(Path.Combine(Golden.Root, "test", "Reference", "midi", "two-tracks.mid"));
        for (int trial = 0; trial < 3000; trial++)
        {
            byte[] broken = (byte[])whole.Clone();
            for (int i = 0; i < 4; i++)
                broken[random.Next(broken.Length)] = (byte)random.Next(256);
            (Score? score, WordFault? fault) = MidiFile.Read(broken);
            Assert.True(score is null == fault is not null);
        }
    }
}
