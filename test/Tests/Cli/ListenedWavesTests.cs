using System.Text.Json;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Design;
using Consort.Engine.Sound.Playing;
using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Cli;

/// <summary>The files that listen writes: their pitch, their spectra against published ones, and what an independent program
/// says of them. They are made of circuits: what those add to the exact figures is said beside each.</summary>
public sealed class ListenedWavesTests : IDisposable
{
    private const int Rate = 48_000;

    private readonly string folder = Directory.CreateTempSubdirectory("consort").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string File => Path.Combine(folder, "toy.wav");

    private ListenVerb.Request Ask(string note, params string[] mix) =>
        new("toy", File, [note], null, null, [.. mix], [], [], [], [], Format: SampleFormat.Float32, Untrimmed: true, Json: true);

    private static JsonElement Listen(ListenVerb.Request request, Voice? voice = null)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        int code = new ListenVerb(screen, _ => (voice ?? SoundingToy.Voice, null, [])).Run(request, TestContext.Current.CancellationToken);
        Assert.Equal((Exit.Done, ""), (code, error.ToString()));
        return JsonDocument.Parse(output.ToString()).RootElement;
    }

    // A second of the left side, from a tenth of a second on.
    private double[] Heard()
    {
        byte[] bytes = System.IO.File.ReadAllBytes(File);
        return [.. Enumerable.Range(Rate / 10, Rate).Select(n => (double)BitConverter.ToSingle(bytes, 58 + 8 * n))];
    }

    private static double Frequency(double[] sound, double near)
    {
        const int Apart = 2 * Rate / 3;
        double early = Spectrum.LineAt(sound.AsSpan(0, Rate / 3), Rate, Window.FlatTop, near).Phase;
        double late = Spectrum.LineAt(sound.AsSpan(Apart), Rate, Window.FlatTop, near).Phase;
        return near + Math.IEEERemainder(late - early - 2 * Math.PI * near * Apart / Rate, 2 * Math.PI) / (2 * Math.PI) * Rate / Apart;
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(4)]
    public void A_files_pitch_is_the_laws_within_a_hundredth_of_a_cent(int octave)
    {
        // Played at whole volts, where the law's own reading stands in the JSON: A2 is 110 Hz, the toy's 0 V 100 Hz.
        ListenVerb.Request request = Ask("A2 1.2 s", "o1/saw") with { Fine = 1200 * Math.Log2(100 * Math.Pow(2, octave) / 110.0) };
        double cents = Listen(request).GetProperty("strips")[0].GetProperty("law").EnumerateArray()
            .Single(point => Math.Abs(point.GetProperty("controlVolts").GetDouble() - octave) < 1e-9).GetProperty("cents").GetDouble();
        double law = 100 * Math.Pow(2, octave + cents / 1200);
        Expect.Within(0, 1200 * Math.Log2(Frequency(Heard(), law) / law), 1e-4);
    }

    [Theory]
    [InlineData(1.5, new[] { 0.551328895, 0.275664448, 0.318309886, 0.137832224, 0.110265779 })]
    [InlineData(2.3, new[] { 0.215684019, 0.622431581, 0.184251816 })]
    public void A_hard_synced_saw_has_the_spectrum_of_its_closed_form(double ratio, double[] amplitudes)
    {
        // Fourier integral of 2·frac(r·t) − 1 reset at each whole t (closed form, from memory). The circuit's resets take 0.4 µs
        // of 9 ms and come 0.3 µs late: a part in 1e4 of the lead's period. The mixer's coupling takes 2e-4 off 110 Hz.
        Voice voice = SoundingToy.Read("  - {from: o1/reset, to: o2/sync, length: 1 mm}", toy => toy.Replace("\"5 - 1 * step", "\"5 - 4.999 * step", StringComparison.Ordinal));
        JsonElement told = Listen(Ask("A2 1.2 s", "o1/saw", "o2/saw") with { Place = ["o1=100%", "o2=-100%"], Stand = [$"o2=+{1200 * Math.Log2(ratio):0.0000} cents"] }, voice);
        Assert.True(told.GetProperty("strips")[1].GetProperty("sync").GetProperty("notes")[0].GetProperty("held").GetBoolean());
        double lead = 110 * Math.Pow(2, told.GetProperty("strips")[0].GetProperty("law")[2].GetProperty("cents").GetDouble() / 1200);
        double[] sound = Heard();
        HarmonicReading reading = HarmonicReading.OfSamples(sound, Rate, Frequency(sound, lead), amplitudes.Length, Window.Deep);
        double scale = told.GetProperty("voltsAtFullScale").GetDouble() / 2.5025; // half the saw's height, hysteresis included
        for (int k = 1; k <= amplitudes.Length; k++)
            Expect.Within(amplitudes[k - 1], scale * reading.Amplitude(k), 1e-3);
    }

    [Theory]
    [InlineData(1, new[] { 0.765197686558, 0.440050585745, 0.114903484932, 0.0195633539827 })]
    [InlineData(2, new[] { 0.223890779141, 0.576724807757, 0.352834028616, 0.128943249474 })]
    [InlineData(2.40482555770, new[] { 0.0 })]
    public void A_sine_under_linear_modulation_has_the_Bessel_functions_as_sidebands(double index, double[] amplitudes)
    {
        // J_n(β) (Abramowitz and Stegun 9.1; Chowning, JAES 21 (1973) 526). A tenth of the pitch for each volt; its resets take
        // some 1e-4 of a period, so that the swing is that much less than ideal and the sine's end that far from its start.
        const double Modulator = 20;
        Voice voice = SoundingToy.Read("", toy => toy + "\n  V9: {voltage source: \"sin(2 * pi * [core] / 5.005)\", plus: sine, minus: 0 V}\n  R10: {resistor: 10k, from: sine, to: 0 V}\n  J8: {jack: output, label: sine, tip: sine}");
        ListenVerb.Request request = Ask("A3 1.2 s", "o1/sine") with { Place = ["o1=-100%"], Fine = 1200 * Math.Log2(200 / 220.0) };
        double carrier = 200 * Math.Pow(2, Listen(request, voice).GetProperty("strips")[0].GetProperty("law")[2].GetProperty("cents").GetDouble() / 1200);
        double volts = index * Modulator / (0.1 * carrier);
        JsonElement told = Listen(request with { Move = [$"shake=sine {Modulator} Hz {volts:0.######} V"] }, voice);
        double scale = told.GetProperty("voltsAtFullScale").GetDouble();
        double[] sound = Heard();
        for (int n = 0; n < amplitudes.Length; n++)
            Expect.Within(amplitudes[n], scale * Spectrum.LineAt(sound, Rate, Window.Deep, carrier + n * Modulator).Magnitude, 1e-3);
    }

    [Theory]
    [InlineData(SampleFormat.Bits16, 44_100, "16-bit Signed Integer PCM")]
    [InlineData(SampleFormat.Bits24, 96_000, "24-bit Signed Integer PCM")]
    [InlineData(SampleFormat.Float32, 192_000, "32-bit Floating Point PCM")]
    public void Sox_says_of_a_file_what_listen_says_of_it(SampleFormat format, int rate, string encoding)
    {
        JsonElement told = Listen(Ask("A3 200 ms", "o1/saw", "o2/pulse") with { Format = format, Rate = rate, Level = 0.5 });
        string info = Sox.Run("--info", File);
        Assert.Contains($"Sample Rate    : {rate}", info, StringComparison.Ordinal);
        Assert.Contains($"= {Math.Round(told.GetProperty("seconds").GetDouble() * rate)} samples", info, StringComparison.Ordinal);
        Assert.Contains(encoding, info, StringComparison.Ordinal);
        string stats = Sox.Run(File, "-n", "stats");
        // Printed to a hundredth of a dB; 16 bit dither adds a step. Listen counts rms against a sine's, sox against a square's.
        Expect.Within(told.GetProperty("peakDb").GetDouble(), Sox.Column(stats, "Pk lev dB", 0), 0.02);
        Expect.Within(told.GetProperty("rmsDb").GetDouble() - 20 * Math.Log10(Math.Sqrt(2)), Sox.Column(stats, "RMS lev dB", 0), 0.02);
        // EBU R 68's dBu: 0.774596669241 V rms (from memory), a sine's peak √2 of it.
        Expect.Within(20 * Math.Log10(told.GetProperty("voltsAtFullScale").GetDouble() / Math.Sqrt(2) / 0.774596669241), told.GetProperty("dbuAtFullScale").GetDouble(), 1e-9);
    }

    [Fact]
    public void A_24_bit_file_of_a_second_has_the_published_header()
    {
        // RIFF/WAVE, 44 bytes (IBM and Microsoft 1991; from memory): a second in stereo at 96 kHz is 576000 bytes, 576036 in all.
        Listen(Ask("A3 950 ms", "o1/saw") with { Format = SampleFormat.Bits24, Rate = 96_000 }); // and 50 ms of release
        byte[] file = System.IO.File.ReadAllBytes(File);
        Assert.Equal((576_036, 576_000, 576_000), (BitConverter.ToInt32(file, 4), BitConverter.ToInt32(file, 28), BitConverter.ToInt32(file, 40)));
        Assert.Equal((16, (short)1, (short)2, 96_000, (short)6, (short)24), (BitConverter.ToInt32(file, 16), BitConverter.ToInt16(file, 20), BitConverter.ToInt16(file, 22), BitConverter.ToInt32(file, 24), BitConverter.ToInt16(file, 32), BitConverter.ToInt16(file, 34)));
    }
}
