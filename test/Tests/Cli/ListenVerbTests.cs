using System.Collections.Immutable;
using System.Text.Json;
using System.Text.RegularExpressions;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Sound.Playing;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Cli;

public sealed partial class ListenVerbTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("consort").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private ListenVerb.Request Plain => new("toy", Path.Combine(folder, "toy.wav"), ["A3 100 ms", "rest 50 ms", "E4 100 ms"], null, null, [], [], [], [], [], Untrimmed: true);

    private static Call Listen(ListenVerb.Request request)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        return new(new ListenVerb(screen, _ => (SoundingToy.Voice, null, [])).Run(request, TestContext.Current.CancellationToken), output.ToString(), error.ToString());
    }

    [Fact]
    public void What_is_printed_reads_as_kept() =>
        Golden.Same("cli/listen.txt", Listen(Plain).ToString().Replace(folder, "", StringComparison.Ordinal));

    [Fact]
    public void The_caution_about_hearing_stands_where_sound_is_made()
    {
        Assert.Contains("Start with the volume down", Listen(Plain).Output, StringComparison.Ordinal);
        Assert.Contains("Start with the volume down", Listen(Plain with { Json = true }).Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(1)]
    public void The_highest_peak_of_the_file_stands_at_the_level_asked_and_no_sample_above(double level)
    {
        Listen(Plain with { Format = SampleFormat.Float32, Level = level });
        Assert.Equal(level, Samples(Plain.Out).Max(Math.Abs), 1e-6);
    }

    [Fact]
    public void Every_wrong_word_of_a_call_is_told_in_one_go_and_is_bad_input()
    {
        Call call = Listen(Plain with { Notes = ["H4 1 s"], Mix = ["o1/swa"], Move = ["wheel=sine"], Set = ["o3/P1=2"] });
        Assert.Equal(Exit.BadInput, call.Code);
        Golden.Same("cli/error-listen-words.txt", call.ToString());
    }

    [Fact]
    public void A_midi_file_is_played()
    {
        string tune = Path.Combine(Golden.Root, "test", "Reference", "midi", "scale.mid");
        JsonElement json = JsonDocument.Parse(Listen(Plain with { Notes = [], Midi = tune, Json = true }).Output).RootElement;
        Assert.Equal(2.3, json.GetProperty("seconds").GetDouble(), 1e-3); // and the release
        Assert.Equal(57, json.GetProperty("touches")[0].GetProperty("key").GetDouble());
    }

    [Fact]
    public void A_midi_file_that_is_none_is_bad_input()
    {
        Call call = Listen(Plain with { Notes = [], Midi = Path.Combine(Golden.Root, "README.md") });
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Contains("no Standard MIDI File", call.Error, StringComparison.Ordinal);
    }

    private static float[] Samples(string file)
    {
        byte[] bytes = File.ReadAllBytes(file);
        float[] samples = new float[(bytes.Length - 58) / 4];
        Buffer.BlockCopy(bytes, 58, samples, 0, 4 * samples.Length);
        return samples;
    }

    [Theory]
    [InlineData("ideal")]
    [InlineData("another voice")]
    public void What_is_set_beside_it_is_as_long_and_at_the_same_scale(string beside)
    {
        string chart = Path.Combine(folder, "beats.svg");
        Call call = Listen(Plain with { Format = SampleFormat.Float32, Beside = beside, Beats = chart });
        Assert.Equal(Exit.Done, call.Code);
        (float[] a, float[] b) = (Samples(Plain.Out), Samples(Path.Combine(folder, "toy-b.wav")));
        Assert.Equal(a.Length, b.Length);
        Assert.Equal(0.1, Math.Max(a.Max(Math.Abs), b.Max(Math.Abs)), 1e-6);
        // The toy is its own other voice; against the ideal its dead times make it flat.
        Assert.Equal(beside != "ideal", a.SequenceEqual(b));
        Assert.Contains("<svg", File.ReadAllText(chart), StringComparison.Ordinal);
        Assert.Contains("toy-b.wav", call.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_builds_are_played_side_by_side_under_their_numbers()
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        ListenVerb.Request request = Plain with
        {
            Folder = Path.Combine(Golden.Root, "examples", "pair"), Untrimmed = false, Format = SampleFormat.Float32, Build = 5, Beside = "build 6", Json = true,
        };
        Assert.Equal(Exit.Done, new ListenVerb(screen, DesignFolder.Read).Run(request, TestContext.Current.CancellationToken));
        Assert.Equal("", error.ToString());
        JsonElement json = JsonDocument.Parse(output.ToString()).RootElement;
        Assert.Equal("pair, build 5", json.GetProperty("voice").GetString());
        Assert.Equal("pair, build 6", json.GetProperty("beside").GetProperty("voice").GetString());
        (float[] a, float[] b) = (Samples(Plain.Out), Samples(Path.Combine(folder, "toy-b.wav")));
        Assert.Equal(a.Length, b.Length);
        Assert.False(a.SequenceEqual(b));
    }

    [Fact]
    public void Every_name_of_the_json_stands_in_its_page()
    {
        string page = File.ReadAllText(Path.Combine(Golden.Root, "docs", "json.md"));
        string json = Listen(Plain with { Json = true, Beside = "ideal" }).Output;
        string[] missing = [.. Names().Matches(json).Select(name => name.Groups[1].Value).Distinct().Where(name => !page.Contains($"`{name}`", StringComparison.Ordinal))];
        Assert.Empty(missing);
    }

    [Fact]
    public void Noise_and_drift_are_printed_with_their_figures_and_causes() =>
        Golden.Same("cli/listen-noise.txt", Listen(Restless).ToString().Replace(folder, "", StringComparison.Ordinal));

    private ListenVerb.Request Restless => Plain with { Unrest = new(true, 8, 300, 60, []) };

    [Fact]
    public void Every_name_of_noise_and_drift_in_json_stands_in_its_page()
    {
        JsonElement json = JsonDocument.Parse(Listen(Restless with { Json = true }).Output).RootElement;
        JsonPage.Names(json);
        Assert.Equal(8, json.GetProperty("drift").GetProperty("riseKelvin").GetDouble());
        Assert.Equal(2, json.GetProperty("noise").GetProperty("oscillators").GetArrayLength());
        // Not asked for, neither is there, and the sound is that of before.
        float[] restless = Samples(Plain.Out);
        JsonElement still = JsonDocument.Parse(Listen(Plain with { Json = true }).Output).RootElement;
        Assert.Equal(JsonValueKind.Null, still.GetProperty("noise").ValueKind);
        Assert.Equal(JsonValueKind.Null, still.GetProperty("drift").ValueKind);
        Assert.False(restless.SequenceEqual(Samples(Plain.Out)));
    }

    [Fact]
    public void Every_wrong_moment_of_a_temperature_course_is_told()
    {
        Call call = Listen(Plain with { Unrest = UnrestRequest.None with { Course = ["1 s=20 °C", "1 s=30 °C", "2 s", "3 s=900 °C"] } });
        Assert.Equal(Exit.BadInput, call.Code);
        Golden.Same("cli/error-listen-course.txt", call.ToString());
    }

    [Fact]
    public void A_file_that_cannot_be_written_is_bad_input() =>
        Assert.Equal(Exit.BadInput, Listen(Plain with { Out = "/nowhere at all/toy.wav" }).Code);

    [GeneratedRegex("\"([a-zA-Z]+)\":")]
    private static partial Regex Names();
}
