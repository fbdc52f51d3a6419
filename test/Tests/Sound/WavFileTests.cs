using System.Buffers.Binary;
using Consort.Engine.Sound.Playing;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

public sealed class WavFileTests
{
    private static byte[] Write(float[] samples, int channels, int rate, SampleFormat format, out long cut)
    {
        using MemoryStream stream = new();
        cut = WavFile.Write(stream, samples, channels, rate, format, 1);
        return stream.ToArray();
    }

    private static uint At(byte[] file, int place) => BinaryPrimitives.ReadUInt32LittleEndian(file.AsSpan(place));

    [Theory]
    [InlineData(1, 48_000, SampleFormat.Bits16, 96_036, 96_000, 96_000, 2)]
    [InlineData(2, 96_000, SampleFormat.Bits24, 576_036, 576_000, 576_000, 6)]
    public void A_second_has_the_published_header(int channels, int rate, SampleFormat format, uint riff, uint data, uint perSecond, int block)
    {
        // IBM and Microsoft, Multimedia Programming Interface and Data Specifications 1.0 (1991): the 44-byte PCM header. From memory.
        byte[] file = Write(new float[channels * rate], channels, rate, format, out _);
        Assert.Equal("RIFF"u8, file.AsSpan(0, 4));
        Assert.Equal(riff, At(file, 4));
        Assert.Equal("WAVEfmt "u8, file.AsSpan(8, 8));
        Assert.Equal(16u, At(file, 16));
        Assert.Equal(1 + (channels << 16), (int)At(file, 20));
        Assert.Equal((uint)rate, At(file, 24));
        Assert.Equal(perSecond, At(file, 28));
        Assert.Equal(block, BinaryPrimitives.ReadUInt16LittleEndian(file.AsSpan(32)));
        Assert.Equal("data"u8, file.AsSpan(36, 4));
        Assert.Equal(data, At(file, 40));
        Assert.Equal(44 + (int)data, file.Length);
    }

    [Fact]
    public void Odd_data_are_padded_and_the_padding_is_not_counted_as_data()
    {
        byte[] file = Write([0.5f], 1, 44_100, SampleFormat.Bits24, out _);
        Assert.Equal(3u, At(file, 40));
        Assert.Equal(48, file.Length);
        Assert.Equal(40u, At(file, 4));
    }

    [Fact]
    public void Floats_are_kept_to_the_bit()
    {
        float[] samples = [0.1f, -0.987654321f, 1.5f, float.Epsilon];
        byte[] file = Write(samples, 2, 192_000, SampleFormat.Float32, out long cut);
        Assert.Equal(1, cut);
        Assert.Equal(3, BinaryPrimitives.ReadUInt16LittleEndian(file.AsSpan(20)));
        for (int i = 0; i < samples.Length; i++)
            Assert.Equal(samples[i], BinaryPrimitives.ReadSingleLittleEndian(file.AsSpan(58 + 4 * i)));
    }

    [Fact]
    public void Whole_numbers_are_within_two_steps_and_their_mean_error_is_none()
    {
        float[] samples = [.. Enumerable.Range(0, 20_000).Select(n => (float)(0.3 * Math.Sin(0.01 * n)))];
        byte[] file = Write(samples, 1, 48_000, SampleFormat.Bits16, out _);
        double sum = 0, squares = 0;
        for (int i = 0; i < samples.Length; i++)
        {
            double error = BinaryPrimitives.ReadInt16LittleEndian(file.AsSpan(44 + 2 * i)) - samples[i] * 32767.0;
            Assert.True(Math.Abs(error) <= 1.5);
            (sum, squares) = (sum + error, squares + error * error);
        }
        Expect.Within(0, sum / samples.Length, 0.02);
        // Triangular dither of two steps and rounding: 1/6 + 1/12 of a step squared.
        Expect.Within(0.25, squares / samples.Length, 0.01);
    }

    [Fact]
    public void What_is_above_full_scale_is_cut_off_and_counted()
    {
        byte[] file = Write([1.2f, -1.2f, 0.5f], 1, 48_000, SampleFormat.Bits16, out long cut);
        Assert.Equal(2, cut);
        Assert.Equal(32767, BinaryPrimitives.ReadInt16LittleEndian(file.AsSpan(44)));
        Assert.Equal(-32768, BinaryPrimitives.ReadInt16LittleEndian(file.AsSpan(46)));
    }
}
