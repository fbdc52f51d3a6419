using System.Text.Json;
using System.Text.RegularExpressions;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Design;
using Consort.Engine.Response;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Cli;

public sealed partial class RespondVerbTests
{
    private static Call Respond(RespondVerb.Request request, Voice? voice = null)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        return new(new RespondVerb(screen, _ => (voice ?? SoundingToy.Voice, [])).Run(request, TestContext.Current.CancellationToken), output.ToString(), error.ToString());
    }

    private static RespondVerb.Request Ask(params string[] sheets) => new("toy", new(["o1"], [.. sheets], [], "2 V"), [], Untrimmed: true);

    [Fact]
    public void Every_name_of_the_json_stands_in_its_page()
    {
        string page = File.ReadAllText(Path.Combine(Golden.Root, "docs", "json.md"));
        Call call = Respond(Ask("width", "sync", "waves") with { Json = true });
        Assert.Equal(Exit.Done, call.Code);
        string[] missing = [.. Names().Matches(call.Output).Select(name => name.Groups[1].Value).Distinct().Where(name => !page.Contains($"`{name}`", StringComparison.Ordinal))];
        Assert.Empty(missing);
    }

    [Fact]
    public void Pulses_of_a_tenth_of_the_threshold_catch_a_saw_up_to_a_ninth_and_only_upward()
    {
        // Phase map: f0 ≤ fm ≤ f0/(1 − 0.5/5), so that its own pitch may stand 1200·log2(10/9) cents below the pulses' and none
        // above. First principles; no paper is claimed. Within 1 cent: hysteresis, delay and the halving of the search.
        Voice voice = SoundingToy.Read("", toy => toy.Replace("\"5 - 1 * step", "\"5 - 0.5 * step", StringComparison.Ordinal));
        Call call = Respond(Ask("sync") with { Json = true }, voice);
        Assert.Equal(Exit.Done, call.Code);
        JsonElement sync = JsonDocument.Parse(call.Output).RootElement.GetProperty("oscillators")[0].GetProperty("syncs")[0];
        Assert.Equal(1200 * Math.Log2(10 / 9.0), sync.GetProperty("flatCents").GetDouble(), 1.0);
        Assert.Equal(0, sync.GetProperty("sharpCents").GetDouble(), 1.0);
    }

    [Fact]
    public void All_that_is_wrong_with_the_words_is_said_at_once()
    {
        Call call = Respond(new("toy", new(["o9"], ["widht"], ["o1/P7=3"], "H9"), ["400 °C", "warm"]));
        Assert.Equal(Exit.BadInput, call.Code);
        foreach (string word in (string[])["'o9'", "'widht'", "P7", "'H9'", "400 °C", "warm"])
            Assert.Contains(word, call.Error, StringComparison.Ordinal);
        Assert.Empty(call.Output);
    }

    [Fact]
    public void The_page_shows_the_same_sentences_as_the_terminal()
    {
        string file = Path.Combine(Directory.CreateTempSubdirectory("consort-respond-").FullName, "toy.html");
        Call call = Respond(Ask("width") with { Report = file });
        Assert.Equal(Exit.Done, call.Code);
        string page = File.ReadAllText(file);
        Directory.Delete(Path.GetDirectoryName(file)!, recursive: true);
        Assert.Contains("<svg", page, StringComparison.Ordinal);
        Assert.Contains("ies at −2.50", page, StringComparison.Ordinal);
        Assert.Contains("dies at -2.50 V", call.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void An_oscillator_without_shaped_outputs_is_told_why_a_sheet_is_missing()
    {
        KnownOscillator still = new(SoundingToy.Voice.Members[0], 400, ["pulse"], [new("pulse", 0, 5)], []);
        AbsentSheet[] absent = [.. still.Absent([.. Enum.GetValues<SheetKind>()], tried: false, synced: false)];
        Assert.Equal([SheetKind.Width, SheetKind.Frequency, SheetKind.Sync, SheetKind.Waves], absent.Select(sheet => sheet.Kind));
        Assert.All(absent, sheet => Assert.NotEmpty(sheet.Reason));
    }

    [GeneratedRegex("\"([a-zA-Z]+)\":")]
    private static partial Regex Names();
}
