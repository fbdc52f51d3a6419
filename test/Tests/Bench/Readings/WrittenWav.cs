namespace Consort.Tests.Measuring.Readings;

/// <summary>WAV files for tests: PCM, with the 44 bytes of header of the 1991 specification (IBM and Microsoft,
/// Multimedia Programming Interface and Data Specifications 1.0, from memory).</summary>
internal static class WrittenWav
{
    /// <summary>The file.</summary>
    public static byte[] Bytes(double[] samples, int rate, int bits = 16) => Bytes([samples], rate, bits);

    /// <summary>The file, of channels that are equally long.</summary>
    public static byte[] Bytes(double[][] channels, int rate, int bits = 16)
    {
        int width = bits / 8, size = channels.Length * channels[0].Length * width;
        using MemoryStream stream = new();
        using BinaryWriter writer = new(stream);
        writer.Write("RIFF"u8);
        writer.Write(36 + size + (size & 1));
        writer.Write("WAVEfmt "u8);
        writer.Write(16);
        writer.Write((short)1);
        writer.Write((short)channels.Length);
        writer.Write(rate);
        writer.Write(rate * width * channels.Length);
        writer.Write((short)(width * channels.Length));
        writer.Write((short)bits);
        writer.Write("data"u8);
        writer.Write(size);
        double full = Math.Pow(2, bits - 1);
        foreach (double sample in Enumerable.Range(0, channels[0].Length).SelectMany(i => channels.Select(channel => channel[i])))
        {
            int value = (int)Math.Clamp(Math.Round(sample * full), -full, full - 1);
            for (int b = 0; b < width; b++)
                writer.Write((byte)(value >> (8 * b)));
        }
        if ((size & 1) == 1)
            writer.Write((byte)0);
        writer.Flush();
        return stream.ToArray();
    }
}
