using System.Text.Json;
using System.Text.RegularExpressions;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Design;
using Consort.Tests.Pitch.Locking;
using Xunit;

namespace Consort.Tests.Cli;

public sealed partial class LockVerbTests
{
    private static Call Lock(string resistance, bool json = false, params string[] set) => Lock(LeakyToy.Voice(resistance), json, set);

    private static Call Lock(Voice voice, bool json, params string[] set)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        LockVerb.Request request = new("toy", [.. set], Play: "2 V", Untrimmed: true, Json: json);
        return new(new LockVerb(screen, _ => (voice, [])).Run(request, TestContext.Current.CancellationToken), output.ToString(), error.ToString());
    }

    [Fact]
    public void A_pair_that_is_meant_to_stand_apart_and_locks_misses_the_limit()
    {
        Call call = Lock("5 Ω");
        Assert.Equal(Exit.LimitMissed, call.Code);
        Golden.Same("cli/lock.txt", call.ToString());
    }

    [Fact]
    public void On_a_stiff_supply_it_beats_as_it_is_meant_to()
    {
        Call call = Lock("5 mΩ", json: true);
        Assert.Equal(Exit.Done, call.Code);
        JsonElement pair = JsonDocument.Parse(call.Output).RootElement.GetProperty("pairs")[0];
        Assert.False(pair.GetProperty("locked").GetBoolean());
        Assert.Equal(pair.GetProperty("freeBeatHertz").GetDouble(), pair.GetProperty("beatHertz").GetDouble(), 1e-4);
    }

    [Fact]
    public void Without_anything_between_them_the_range_is_none_and_the_beat_is_the_detunes_own()
    {
        // Common practice, no source: oscillators that nothing joins are never locked. The pulses' load is taken out and the
        // supply is next to nothing: what is left through wires of a microohm.
        Call call = Lock(LeakyToy.Voice("1 µΩ", change: leaky => leaky.Replace("R6: {resistor: 1k", "R6: {resistor: 1e12", StringComparison.Ordinal)), json: true);
        Assert.Equal(Exit.Done, call.Code);
        JsonElement pair = JsonDocument.Parse(call.Output).RootElement.GetProperty("pairs")[0];
        Assert.Equal(0, pair.GetProperty("locksToCents").GetDouble() - pair.GetProperty("locksFromCents").GetDouble(), 1e-6);
        Assert.Equal(1, pair.GetProperty("evenness").GetDouble(), 1e-6);
        Assert.Equal(pair.GetProperty("freeBeatHertz").GetDouble(), pair.GetProperty("beatHertz").GetDouble(), 1e-9);
    }

    [Fact]
    public void Every_name_of_the_json_stands_in_its_page()
    {
        string page = File.ReadAllText(Path.Combine(Golden.Root, "docs", "json.md"));
        string[] missing = [.. Names().Matches(Lock("5 Ω", json: true).Output).Select(name => name.Groups[1].Value).Distinct().Where(name => !page.Contains($"`{name}`", StringComparison.Ordinal))];
        Assert.Empty(missing);
    }

    [Fact]
    public void A_wrong_word_is_bad_input() => Assert.Equal(Exit.BadInput, Lock("5 Ω", false, "o3/P1=2").Code);

    [GeneratedRegex("\"([a-zA-Z]+)\":")]
    private static partial Regex Names();
}
