using Consort.Engine.Sound.Playing;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound;

/// <summary>Our sound files read back by an independent program (Debian's sox).</summary>
public sealed class SoxTests
{
    [Theory]
    [InlineData(SampleFormat.Bits16, 44_100, 16, "Signed Integer PCM")]
    [InlineData(SampleFormat.Bits24, 48_000, 24, "Signed Integer PCM")]
    [InlineData(SampleFormat.Bits24, 192_000, 24, "Signed Integer PCM")]
    [InlineData(SampleFormat.Float32, 96_000, 32, "Floating Point PCM")]
    public void Sox_reads_the_same_length_rate_and_level(SampleFormat format, int rate, int bits, string encoding)
    {
        string file = Path.Combine(Path.GetTempPath(), $"consort-{Environment.ProcessId}-{rate}-{bits}.wav");
        try
        {
            float[] samples = new float[2 * 10_001];
            for (int n = 0; n < 10_001; n++)
                (samples[2 * n], samples[2 * n + 1]) = ((float)(0.1 * Math.Sin(0.05 * n)), (float)(0.05 * Math.Sin(0.07 * n)));
            using (FileStream stream = new(file, FileMode.Create))
                WavFile.Write(stream, samples, 2, rate, format, 1);
            string told = Sox.Run("--info", file);
            Assert.Contains($"Sample Rate    : {rate}", told, StringComparison.Ordinal);
            Assert.Contains("= 10001 samples", told, StringComparison.Ordinal);
            Assert.Contains($"{bits}-bit {encoding}", told, StringComparison.Ordinal);
            Assert.Contains("Channels       : 2", told, StringComparison.Ordinal);
            string stats = Sox.Run(file, "-n", "stats");
            // Printed to a hundredth of a dB; 16 bit dither adds a step.
            Expect.Within(-20, Sox.Column(stats, "Pk lev dB", 1), 0.02);
            Expect.Within(20 * Math.Log10(0.05), Sox.Column(stats, "Pk lev dB", 2), 0.02);
            Expect.Within(20 * Math.Log10(0.1 / Math.Sqrt(2)), Sox.Column(stats, "RMS lev dB", 1), 0.02);
        }
        finally
        {
            File.Delete(file);
        }
    }
}
