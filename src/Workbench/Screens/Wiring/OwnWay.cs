using Consort.Engine.Design;
using Consort.Engine.Planning;
using DesignVoice = Consort.Engine.Design.Voice;

namespace Consort.Workbench.Screens.Wiring;

/// <summary>Tells which way of a plan the voice is wired in now, whatever its oscillators and multiples are called.</summary>
internal static class OwnWay
{
    /// <summary>Its place among the ways; −1 when the voice is wired in none of them.</summary>
    public static int In(WiringPlan plan, DesignVoice voice)
    {
        string now = Shape(voice);
        return plan.Alternatives.ToList().FindIndex(one => Shape(one.Voice) == now);
    }

    // Modules by design, ribbons by how many hang on each lead's, multiples by kind and by how many of their jacks are in use.
    private static string Shape(DesignVoice voice)
    {
        Dictionary<string, string> designs = voice.Members.ToDictionary(member => member.Name, member => member.Module.Name, StringComparer.Ordinal);
        int Used(Multiple multiple) => voice.Cords.Count(cord => cord.From.Owner == multiple.Name || cord.To.Owner == multiple.Name);
        IEnumerable<string> all = designs.Values.Order(StringComparer.Ordinal)
            .Concat(voice.Ribbons.Select(ribbon => $"{designs.GetValueOrDefault(ribbon.From.Owner)} with {ribbon.To.Length}").Order(StringComparer.Ordinal))
            .Concat(voice.Multiples.Select(multiple => $"{(multiple.Buffered ? "buffered" : "passive")} {Used(multiple)}").Order(StringComparer.Ordinal));
        return string.Join('\n', all);
    }
}
