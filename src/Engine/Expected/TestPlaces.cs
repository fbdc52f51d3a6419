using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Expected;

/// <summary>Where a builder touches a board: the rails, the outputs of references, amplifiers and comparators, and the output jacks.</summary>
internal static class TestPlaces
{
    private static readonly string[] Active = ["reference", "regulator", "op amp", "ota", "comparator"];

    /// <summary>Net and place of each, in the order in which faults are looked for; one place a net.</summary>
    public static ImmutableArray<(string Net, string Touch)> Of(Module module) =>
        [
            .. Rails(module)
                .Concat(Active.SelectMany(kind => module.Circuit.Where(part => part.Kind.Word == kind)).Select(part => (Net: part.NetAt("out")!, Touch: $"{part.Name}, out")))
                .Concat(module.Circuit.Where(part => part.Kind.Word == "jack" && part.Texts["value"] == "output").Select(part => (Net: part.NetAt("tip")!, Touch: $"{part.Name}, jack '{part.Texts["label"]}'")))
                .Where(place => place.Net is not null && place.Net != CircuitDesign.Ground)
                .DistinctBy(place => place.Net),
        ];

    private static IEnumerable<(string Net, string Touch)> Rails(Module module) =>
        module.Circuit.Where(part => part.Kind.Word == "power")
            .SelectMany(part => part.Terminals.Select(joint => (joint.Net, Touch: $"{part.Name}, rail")));
}
