using System.Collections.Immutable;
using System.Text.Json;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Tests.Documents;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class ProveVerbTests
{
    private static readonly Voice AnyVoice =
        new("any", "", [], [], [], [], [], new([], 0, 0), InventedProof.Limits);

    [Fact]
    public void The_tables_read_as_kept()
    {
        Call call = Prove(new("any"));
        Golden.Same("cli/prove.txt", call.ToString());
    }

    [Fact]
    public void The_chain_of_a_claim_reads_as_kept() => Golden.Same("cli/prove-why.txt", Prove(new("any", Why: "tracking")).ToString());

    [Fact]
    public void A_claim_of_two_words_is_found_with_a_hyphen() =>
        Assert.Contains("Worst follower", Prove(new("any", Why: "follower-error")).Output, StringComparison.Ordinal);

    [Fact]
    public void An_unknown_claim_is_bad_input_and_the_known_ones_are_named()
    {
        Call call = Prove(new("any", Why: "loudness"));
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Contains("tracking, drift, follower-error, chain, trims", call.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missed_claim_gives_exit_code_1() => Assert.Equal(Exit.LimitMissed, Prove(new("any")).Code);

    [Fact]
    public void A_voice_that_holds_gives_exit_code_0()
    {
        Proof proof = InventedProof.Quartet();
        proof = proof with { Claims = [.. proof.Claims.Where(claim => claim.Passed)] };
        Assert.Equal(Exit.Done, Prove(new("any"), proof).Code);
    }

    [Fact]
    public void What_cannot_be_computed_gives_exit_code_3_and_no_result()
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        int code = new ProveVerb(screen, _ => (AnyVoice, null, []), (_, _, _, _, _) => (null, new("no operating point", "state where C5 starts")))
            .Run(new("any"), CancellationToken.None);
        Assert.Equal(Exit.NotComputed, code);
        Assert.Empty(output.ToString());
        Assert.Equal("any: no operating point\n  mend: state where C5 starts\n", error.ToString());
    }

    [Fact]
    public void Mistakes_in_the_folder_are_all_told_and_give_exit_code_2()
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        ImmutableArray<InputError> errors =
        [
            new("C012", new("voice.yaml", 1, 8, 2), "R7: '4k7k' is not a resistance", "use one multiplier", "   R7: 4k7k"),
            new("C021", new("voice.yaml", 3, 1, 4), "'limts' is not known here", "did you mean 'limits'?", "limts: {}"),
        ];
        int code = new ProveVerb(screen, _ => (null, null, errors), (_, _, _, _, _) => (null, null)).Run(new("any"), CancellationToken.None);
        Assert.Equal(Exit.BadInput, code);
        Assert.Empty(output.ToString());
        Assert.Contains("voice.yaml:1:8: error C012", error.ToString(), StringComparison.Ordinal);
        Assert.Contains("voice.yaml:3:1: error C021", error.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_stopped_run_prints_nothing()
    {
        using CancellationTokenSource stop = new();
        (Screen screen, StringWriter output, _) = Call.Paper();
        ProveVerb verb = new(screen, _ => (AnyVoice, null, []), (_, _, _, _, _) =>
        {
            stop.Cancel();
            return (InventedProof.Quartet(), null);
        });
        Assert.ThrowsAny<OperationCanceledException>(() => verb.Run(new("any"), stop.Token));
        Assert.Empty(output.ToString());
    }

    [Fact]
    public void The_json_holds_every_figure_to_the_last_bit()
    {
        Proof proof = InventedProof.Quartet();
        JsonElement json = JsonDocument.Parse(Prove(new("any", Json: true)).Output).RootElement;
        Assert.Equal(1, json.GetProperty("version").GetInt32());
        Assert.False(json.GetProperty("passed").GetBoolean());
        JsonElement curves = json.GetProperty("tracking");
        for (int i = 0; i < proof.Tracking.Length; i++)
            for (int j = 0; j < proof.Tracking[i].Points.Length; j++)
                Assert.Equal(
                    BitConverter.DoubleToInt64Bits(proof.Tracking[i].Points[j].MeasuredHertz),
                    BitConverter.DoubleToInt64Bits(curves[i].GetProperty("points")[j].GetProperty("measuredHertz").GetDouble())
                );
        JsonElement last = json.GetProperty("chain").GetProperty("points")[16];
        Assert.Equal(JsonValueKind.Null, last.GetProperty("peakingDb").ValueKind);
        Assert.False(last.GetProperty("stable").GetBoolean());
    }

    [Fact]
    public void The_shape_of_the_json_is_as_kept()
    {
        JsonElement json = JsonDocument.Parse(Prove(new("any", Json: true)).Output).RootElement;
        Golden.Same("cli/prove-json-shape.txt", string.Join('\n', Shape(json, "").Distinct()) + "\n");
    }

    [Fact]
    public void The_page_is_written_whole_and_nothing_is_left_beside_it()
    {
        string folder = Directory.CreateTempSubdirectory("consort").FullName;
        try
        {
            string file = Path.Combine(folder, "page.html");
            Prove(new("any", Report: file));
            Assert.EndsWith("</html>\n", File.ReadAllText(file), StringComparison.Ordinal);
            Assert.Single(Directory.GetFiles(folder));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_page_that_cannot_be_written_is_bad_input()
    {
        Call call = Prove(new("any", Report: "/nowhere at all/page.html"));
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Contains("it could not be written", call.Error, StringComparison.Ordinal);
    }

    private static Call Prove(ProveVerb.Request request, Proof? proof = null)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        ProveVerb verb = new(screen, _ => (AnyVoice, null, []), (_, _, _, _, _) => (proof ?? InventedProof.Quartet(), null));
        return new(verb.Run(request, CancellationToken.None), output.ToString(), error.ToString());
    }

    private static IEnumerable<string> Shape(JsonElement element, string path) =>
        element.ValueKind switch
        {
            JsonValueKind.Object => element.EnumerateObject().SelectMany(member => Shape(member.Value, $"{path}.{member.Name}")),
            JsonValueKind.Array => element.EnumerateArray().SelectMany(item => Shape(item, path + "[]")),
            JsonValueKind.True or JsonValueKind.False => [$"{path}: flag"],
            JsonValueKind.Number => [$"{path}: number"],
            JsonValueKind.Null => [$"{path}: may be null"],
            _ => [$"{path}: text"],
        };
}
