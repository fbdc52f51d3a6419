using Consort.Engine.Bench;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Fit;
using Consort.Tests.Invented;
using Xunit;

namespace Consort.Tests.Fit;

/// <summary>Blind trials: units whose parts nobody knows, trimmed by their readings alone.</summary>
public sealed class TrimTrialsTests
{
    [Theory]
    [InlineData("pair", "pair-follower", 1, 0)]
    [InlineData("pair", "pair-follower", 2, 0)] // parts twice as far off as the shelf says
    [InlineData("pair", "pair-follower", 1, 2)] // a bend that no part has
    public void Nineteen_of_twenty_trimmable_units_keep_their_limit_within_three_rounds(string example, string module, double parts, double bend) =>
        Keeps(TrimTrials.Of(Model(example, module), seed: 5, count: 20, new(parts, bend)));

    [Fact]
    [Trait("Runs", "Long")]
    public void The_same_of_every_module_of_both_examples_with_tables()
    {
        List<TrimTrials> all = [];
        foreach ((string example, string module) in (IEnumerable<(string, string)>)[("quartet", "quartet-lead"), ("quartet", "quartet-follower"), ("pair", "pair-lead"), ("pair", "pair-follower")])
        {
            UnitModel model = Model(example, module);
            foreach (Unlikeness unlike in (Unlikeness[])[new(1, 0), new(2, 0), new(3, 0), new(1, 1), new(2, 1)])
                all.Add(TrimTrials.Of(model, seed: 5, count: 40, unlike));
        }
        Console.WriteLine(TrimTrials.Table(all));
        Assert.All(all, Keeps);
    }

    [Fact]
    [Trait("Runs", "Long")]
    public void Units_read_from_full_transients_keep_their_limit_too_so_that_the_fit_is_not_its_own_judge()
    {
        TrimTrials[] all =
        [
            TrimTrials.Of(Model("pair", "pair-follower"), seed: 5, count: 12, new(1, 2), isWhole: true),
            TrimTrials.Of(Model("quartet", "quartet-lead"), seed: 5, count: 12, new(2, 0), isWhole: true),
            TrimTrials.Of(Model("quartet", "quartet-follower"), seed: 5, count: 12, new(2, 0), isWhole: true),
        ];
        double kept = all.Sum(one => one.Kept(3) * one.Trimmable), trimmable = all.Sum(one => one.Trimmable);
        Assert.True(trimmable >= 30 && kept >= 0.95 * trimmable, TrimTrials.Table(all));
    }

    private static void Keeps(TrimTrials trials)
    {
        Assert.True(trials.Trimmable >= 5, "too few of these units can be trimmed at all");
        Assert.True(trials.Kept(3) >= 0.95, TrimTrials.Table([trials]));
    }

    internal static UnitModel Model(string example, string module)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example));
        UnitPlace place = UnitPlace.Find(voice!, $"{module}/0001", null).Place!;
        (UnitModel? model, SolveFailure? failure) = UnitModel.Find(voice!, stock!, place, [298.15], 1);
        Assert.True(model is not null, failure?.ToString());
        return model;
    }
}
