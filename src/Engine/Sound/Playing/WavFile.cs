using System.Buffers.Binary;

namespace Consort.Engine.Sound.Playing;

/// <summary>How samples are kept in a file.</summary>
public enum SampleFormat
{
    /// <summary>Whole numbers of 16 bits.</summary>
    Bits16,
    /// <summary>Whole numbers of 24 bits.</summary>
    Bits24,
    /// <summary>IEEE 754 single precision, full scale at 1.</summary>
    Float32,
}

/// <summary>
/// Writes a WAVE file (IBM and Microsoft, Multimedia Programming Interface and Data Specifications 1.0, 1991; format tags after
/// RFC 2361): PCM with the 44-byte header, or IEEE float with a fact chunk.
/// </summary>
public static class WavFile
{
    private const ushort Pcm = 1;
    private const ushort Float = 3;

    /// <summary>Writes interleaved samples, full scale at 1. Whole numbers get triangular dither of two steps (Lipshitz,
    /// Wannamaker, Vanderkooy, J. Audio Eng. Soc. 40 (1992) 355), the same for the same seed.</summary>
    /// <returns>How many samples were above full scale and were cut off there.</returns>
    public static long Write(Stream stream, ReadOnlySpan<float> samples, int channels, int rate, SampleFormat format, ulong seed)
    {
        int bytes = format switch { SampleFormat.Bits16 => 2, SampleFormat.Bits24 => 3, _ => 4 };
        bool isFloat = format == SampleFormat.Float32;
        long data = (long)samples.Length * bytes;
        if (data > uint.MaxValue - 100)
            throw new IOException("a WAVE file holds no more than 4 GiB");
        stream.Write(Header(channels, rate, bytes, isFloat, (uint)data, (uint)(samples.Length / channels)));
        long cut = Body(stream, samples, bytes, isFloat, seed);
        if (data % 2 != 0)
            stream.WriteByte(0); // chunks are padded to even lengths
        return cut;
    }

    private static byte[] Header(int channels, int rate, int bytes, bool isFloat, uint data, uint frames)
    {
        int format = isFloat ? 18 : 16;
        byte[] header = new byte[28 + format + (isFloat ? 12 : 0)];
        Span<byte> rest = header;
        Put(ref rest, "RIFF"u8);
        Put32(ref rest, (uint)header.Length - 8 + data + data % 2);
        Put(ref rest, "WAVEfmt "u8);
        Put32(ref rest, (uint)format);
        Put16(ref rest, isFloat ? Float : Pcm);
        Put16(ref rest, (ushort)channels);
        Put32(ref rest, (uint)rate);
        Put32(ref rest, (uint)(rate * channels * bytes));
        Put16(ref rest, (ushort)(channels * bytes));
        Put16(ref rest, (ushort)(8 * bytes));
        if (isFloat)
        {
            Put16(ref rest, 0);
            Put(ref rest, "fact"u8);
            Put32(ref rest, 4);
            Put32(ref rest, frames);
        }
        Put(ref rest, "data"u8);
        Put32(ref rest, data);
        return header;
    }

    private static long Body(Stream stream, ReadOnlySpan<float> samples, int bytes, bool isFloat, ulong seed)
    {
        byte[] buffer = new byte[4096 * bytes];
        double full = bytes == 2 ? 32767 : 8388607;
        long cut = 0;
        for (int from = 0; from < samples.Length; from += 4096)
        {
            int count = Math.Min(4096, samples.Length - from);
            for (int i = 0; i < count; i++)
            {
                float sample = samples[from + i];
                if (Math.Abs(sample) > 1)
                    cut++;
                Span<byte> place = buffer.AsSpan(i * bytes, bytes);
                if (isFloat)
                    BinaryPrimitives.WriteSingleLittleEndian(place, sample);
                else
                    Whole(place, (int)Math.Clamp(Math.Round(sample * full + Dither(ref seed)), -full - 1, full));
            }
            stream.Write(buffer, 0, count * bytes);
        }
        return cut;
    }

    private static void Whole(Span<byte> place, int value)
    {
        for (int i = 0; i < place.Length; i++)
            place[i] = (byte)(value >> (8 * i));
    }

    // The difference of two even draws: SplitMix64 (Steele, Lea, Flood, OOPSLA 2014).
    private static double Dither(ref ulong seed)
    {
        seed += 0x9E3779B97F4A7C15;
        ulong z = (seed ^ (seed >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        z ^= z >> 31;
        return ((uint)z - (double)(uint)(z >> 32)) / 4294967296.0;
    }

    private static void Put(ref Span<byte> rest, ReadOnlySpan<byte> text)
    {
        text.CopyTo(rest);
        rest = rest[text.Length..];
    }

    private static void Put16(ref Span<byte> rest, ushort value)
    {
        BinaryPrimitives.WriteUInt16LittleEndian(rest, value);
        rest = rest[2..];
    }

    private static void Put32(ref Span<byte> rest, uint value)
    {
        BinaryPrimitives.WriteUInt32LittleEndian(rest, value);
        rest = rest[4..];
    }
}
