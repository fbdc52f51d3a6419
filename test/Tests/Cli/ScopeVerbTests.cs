using System.Text.Json;
using System.Text.RegularExpressions;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Design;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Cli;

public sealed partial class ScopeVerbTests
{
    private static readonly Voice Toy = ToyVoice.OnMultiple(2, ToyVoice.Oscillator("toy", "100k"));

    private static readonly ScopeVerb.Request Plain = new("toy", ["o1/core", "o2/core"], [], Play: "2 V", Untrimmed: true);

    private static Call Scope(ScopeVerb.Request request)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        return new(new ScopeVerb(screen, _ => (Toy, [])).Run(request, TestContext.Current.CancellationToken), output.ToString(), error.ToString());
    }

    [Fact]
    public void The_tables_read_as_kept() => Golden.Same("cli/scope.txt", Scope(Plain).ToString());

    [Fact]
    public void Every_wrong_word_of_a_call_is_told_in_one_go_and_is_bad_input()
    {
        Call call = Scope(new("toy", ["o1/croe"], ["o1/P1=30%", "keyboard=2 V"], Play: "H4", Trigger: "upward", Pictures: ["wave.bmp"]));
        Assert.Equal(Exit.BadInput, call.Code);
        Golden.Same("cli/error-scope-words.txt", call.ToString());
    }

    [Fact]
    public void A_key_is_played_at_the_voltage_that_the_law_gives_it()
    {
        // 1 Hz at 0 V and 1 V/oct: C-1 is 8.17579891564371 Hz (MIDI Tuning Standard), log2 of it 3.03136 V.
        JsonElement json = JsonDocument.Parse(Scope(Plain with { Play = "C-1", Json = true }).Output).RootElement;
        Assert.Equal(Math.Log2(8.17579891564371), json.GetProperty("playVolts").GetDouble(), 1e-12);
    }

    [Fact]
    public void Every_name_of_the_json_stands_in_its_page()
    {
        string page = File.ReadAllText(Path.Combine(Golden.Root, "docs", "json.md"));
        string json = Scope(Plain with { Json = true }).Output;
        Assert.Equal("consort traces", JsonDocument.Parse(json).RootElement.GetProperty("shape").GetString());
        string[] missing = [.. Names().Matches(json).Select(name => name.Groups[1].Value).Distinct().Where(name => !page.Contains($"`{name}`", StringComparison.Ordinal))];
        Assert.Empty(missing);
    }

    [Fact]
    public void Pictures_and_traces_are_written_whole()
    {
        string folder = Directory.CreateTempSubdirectory("consort").FullName;
        try
        {
            string[] files = [Path.Combine(folder, "a.svg"), Path.Combine(folder, "b.png")];
            Call call = Scope(Plain with { Pictures = [.. files], Csv = Path.Combine(folder, "c.csv"), Dark = true });
            Assert.Equal(Exit.Done, call.Code);
            Assert.Equal(3, Directory.GetFiles(folder).Length);
            Assert.StartsWith("time s,o1/core V,o2/core V\r\n", File.ReadAllText(Path.Combine(folder, "c.csv")), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_picture_that_cannot_be_written_is_bad_input() =>
        Assert.Equal(Exit.BadInput, Scope(Plain with { Pictures = ["/nowhere at all/a.svg"] }).Code);

    [GeneratedRegex("\"([a-zA-Z]+)\":")]
    private static partial Regex Names();
}
