using System.Text.RegularExpressions;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Response;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Cli;

public sealed partial class RespondVerbTests
{
    private static Call Respond(RespondVerb.Request request)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        return new(new RespondVerb(screen, _ => (SoundingToy.Voice, [])).Run(request, TestContext.Current.CancellationToken), output.ToString(), error.ToString());
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
