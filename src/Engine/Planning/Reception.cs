using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>Who gets a wish's voltage, and how: at a jack of its own or over its lead's link.</summary>
/// <param name="Plugged">Oscillators at whose own jacks it arrives, in order.</param>
/// <param name="Missed">Those that were to have it and do not.</param>
/// <param name="More">Those that have it without being asked.</param>
internal sealed record Reception(ImmutableArray<int> Plugged, ImmutableArray<int> Missed, ImmutableArray<int> More)
{
    /// <summary>An oscillator that has the jack is plugged by itself, unless its lead is plugged anyhow and hands the voltage on.</summary>
    /// <param name="wanted">Oscillators that are to have it.</param>
    /// <param name="leadOf">By oscillator: its lead, or itself.</param>
    /// <param name="carries">Whether links hand this input on.</param>
    /// <param name="followerHasJack">Whether a follower has a jack of this label.</param>
    public static Reception Of(IReadOnlyCollection<int> wanted, ImmutableArray<int> leadOf, bool carries, bool followerHasJack)
    {
        HashSet<int> plugged = [.. wanted.Where(i => leadOf[i] == i)];
        List<int> missed = [];
        foreach (int i in wanted.Where(i => leadOf[i] != i && !(carries && plugged.Contains(leadOf[i]))).ToArray())
            if (followerHasJack)
                plugged.Add(i);
            else if (carries)
                plugged.Add(leadOf[i]);
            else
                missed.Add(i);
        int[] more = [.. Enumerable.Range(0, leadOf.Length).Where(i => !wanted.Contains(i) && (plugged.Contains(i) || (carries && plugged.Contains(leadOf[i]))))];
        return new([.. plugged.Order()], [.. missed.Order()], [.. more]);
    }

    /// <summary>The same for a wish of an intent, wired as a scheme has it.</summary>
    public static Reception Of(Wish wish, Intent intent, Module full, Module? follower, ImmutableArray<int> leadOf, LinkBook links)
    {
        int[] wanted = [.. wish.Oscillators.Select(name => intent.Oscillators.IndexOf(intent.Oscillators.First(o => o.Name == name)))];
        return Of(wanted, leadOf, follower is not null && links.Of(full, follower).Contains(wish.To), follower is not null && Jacks.Inputs(follower).Contains(wish.To));
    }
}

/// <summary>Labels of a module's jacks.</summary>
internal static class Jacks
{
    /// <summary>Of its inputs.</summary>
    public static IEnumerable<string> Inputs(Module module) =>
        module.Circuit.Where(part => part.Kind.Word == "jack" && part.Texts["value"] == "input").Select(part => part.Texts["label"]);
}
