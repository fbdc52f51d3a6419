using Consort.Engine.Design;
using NAudio.Wave;

namespace Consort.Engine.Bench.Recordings;

/// <summary>One channel of a sound file.</summary>
/// <param name="File">Its name for messages.</param>
/// <param name="Rate">Samples in a second, by the recorder's clock.</param>
/// <param name="Samples">Full scale is ±1.</param>
/// <param name="Step">Between neighbouring values of a sample; 0 for floating point.</param>
public sealed record Recording(string File, double Rate, double[] Samples, double Step = 0)
{
    /// <summary>Files above this size are refused: ten minutes of two channels at 96 kHz and 24 bits are 330 MB.</summary>
    public const long LargestFile = 500_000_000;

    /// <summary>Its length, s.</summary>
    public double Seconds => Samples.Length / Rate;

    /// <summary>Reads a WAV file: PCM of 8 to 32 bits or floating point, any rate. Null with an error when it is none.</summary>
    /// <param name="path">Where it lies.</param>
    /// <param name="channel">Counted from 1.</param>
    public static Recording? Read(string path, int channel, ErrorList errors)
    {
        SourceSpan at = new(path.Replace('\\', '/'), 0, 0, 0);
        try
        {
            if (new FileInfo(path) is { Exists: true, Length: > LargestFile })
            {
                errors.Add(ErrorCodes.TooLarge, at, $"{at.File} is larger than {LargestFile / 1_000_000} MB", "cut it into shorter recordings");
                return null;
            }
            using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read);
            return Decode(stream, at, channel, errors);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            errors.Add(ErrorCodes.Unreadable, at, $"{at.File} cannot be read", "see that the file exists and may be read");
            return null;
        }
    }

    /// <summary>The same from what was handed over and is no file of this machine.</summary>
    /// <param name="stream">The WAV file, from its beginning.</param>
    /// <param name="name">Of it, for messages.</param>
    /// <param name="channel">Counted from 1.</param>
    public static Recording? Read(Stream stream, string name, int channel, ErrorList errors) => Decode(stream, new(name, 0, 0, 0), channel, errors);

    private static Recording? Decode(Stream stream, SourceSpan at, int channel, ErrorList errors)
    {
        try
        {
            using WaveFileReader reader = new(stream);
            if (channel > reader.WaveFormat.Channels)
            {
                errors.Add(ErrorCodes.NoChannel, at, $"{at.File} has {reader.WaveFormat.Channels} channels and no channel {channel}", "name a channel that it has");
                return null;
            }
            double[] samples = Channel(reader.ToSampleProvider(), channel - 1);
            if (samples.All(double.IsFinite))
                return new(at.File, reader.WaveFormat.SampleRate, samples, StepOf(reader.WaveFormat));
        }
        catch (Exception e) when (e is FormatException or InvalidDataException or EndOfStreamException or ArgumentException or NotSupportedException or InvalidOperationException or OverflowException)
        {
            // The library's own words are about its insides: ours say what to do.
        }
        errors.Add(ErrorCodes.NotARecording, at, $"{at.File} is not a WAV file that can be read", "save it as WAV: PCM of 16 or 24 bits, or floating point");
        return null;
    }

    // Samples come through single precision, which has 24 bits.
    private static double StepOf(WaveFormat format) =>
        format.Encoding == WaveFormatEncoding.IeeeFloat ? 0 : Math.Pow(2, 1 - Math.Min(24, format.BitsPerSample));

    private static double[] Channel(ISampleProvider provider, int channel)
    {
        int channels = provider.WaveFormat.Channels;
        float[] block = new float[channels * 4096];
        List<double> samples = [];
        int filled = 0;
        while (true)
        {
            int read = provider.Read(block.AsSpan(filled));
            filled += read;
            if (filled < block.Length && read > 0)
                continue;
            for (int i = channel; i < filled - filled % channels; i += channels)
                samples.Add(block[i]);
            if (read == 0 || filled == 0)
                return [.. samples];
            filled = 0;
        }
    }
}
