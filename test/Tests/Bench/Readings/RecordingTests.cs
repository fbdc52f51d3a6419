using Consort.Engine.Bench.Recordings;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Measuring.Readings;

public sealed class RecordingTests
{
    private static (Recording? Recording, ErrorList Errors) Read(byte[] bytes, int channel = 1)
    {
        string file = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(file, bytes);
            ErrorList errors = new();
            return (Recording.Read(file, channel, errors), errors);
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Theory]
    [InlineData(16)]
    [InlineData(24)]
    [InlineData(32)]
    public void Samples_come_back_as_they_were_written(int bits)
    {
        double[] samples = [0, 0.5, -0.5, 0.25, -1, 0.999, 1e-4];
        (Recording? recording, _) = Read(WrittenWav.Bytes(samples, 44100, bits));
        Assert.Equal(44100, recording!.Rate);
        Assert.Equal(samples.Length, recording.Samples.Length);
        for (int i = 0; i < samples.Length; i++)
            Assert.Equal(samples[i], recording.Samples[i], Math.Pow(2, -Math.Min(bits, 24)));
    }

    [Fact]
    public void A_file_cut_short_anywhere_is_read_as_far_as_it_goes_or_refused_in_words()
    {
        byte[] whole = WrittenWav.Bytes([.. Enumerable.Range(0, 40).Select(i => i / 64.0)], 48000);
        for (int length = 0; length < whole.Length; length++)
        {
            (Recording? recording, ErrorList errors) = Read(whole[..length]);
            Assert.True(recording is not null || errors.InOrder()[0].Code == "C300", $"{length} bytes");
        }
    }

    [Fact]
    public void Bytes_changed_at_random_are_refused_in_words_or_read_and_never_thrown()
    {
        Random random = new(31);
        byte[] whole = WrittenWav.Bytes([.. Enumerable.Range(0, 40).Select(i => i / 64.0)], 48000);
        for (int trial = 0; trial < 400; trial++)
        {
            byte[] changed = [.. whole];
            for (int hit = 0; hit < 3; hit++)
                changed[random.Next(44)] = (byte)random.Next(256);
            (Recording? recording, ErrorList errors) = Read(changed);
            Assert.Equal(recording is null, errors.Mistakes > 0);
        }
    }

    [Fact]
    public void A_channel_that_is_not_there_and_a_file_that_is_not_there_are_told()
    {
        Assert.Equal("C301", Read(WrittenWav.Bytes([0, 0], 48000), channel: 2).Errors.InOrder()[0].Code);
        ErrorList errors = new();
        Assert.Null(Recording.Read("/nowhere/at/all.wav", 1, errors));
        Assert.Equal("C002", errors.InOrder()[0].Code);
    }
}
