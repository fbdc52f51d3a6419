using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>One way to wire, before it is drawn out: which module is which oscillator, who follows whom, how each signal is
/// split.</summary>
/// <param name="Name">In a few words.</param>
/// <param name="Full">The module with all its inputs.</param>
/// <param name="Follower">The one that hangs on its link; null when none does.</param>
/// <param name="LeadOf">By oscillator: the index of its lead, or its own index.</param>
/// <param name="WayOf">By wish: how it is split among those that have jacks.</param>
internal sealed record Scheme(string Name, Module Full, Module? Follower, ImmutableArray<int> LeadOf, Func<Wish, SplitWay> WayOf)
{
    /// <summary>Oscillators that have their own jacks.</summary>
    public IEnumerable<int> Leads => LeadOf.Where((lead, i) => lead == i);

    /// <summary>All sensible schemes of the modules at hand, and what was left out.</summary>
    public static (ImmutableArray<Scheme> Schemes, ImmutableArray<string> LeftOut) All(Intent intent, ImmutableArray<Module> modules, LinkBook links)
    {
        ImmutableArray<Scheme>.Builder schemes = ImmutableArray.CreateBuilder<Scheme>();
        ImmutableArray<string>.Builder leftOut = ImmutableArray.CreateBuilder<string>();
        int count = intent.Oscillators.Length;
        foreach (Module full in modules.Where(module => module.Pitch is { Control: not null } || module.Sheet?.TrackingCents is not null))
        {
            if (full.Sheet is not null || Lacks(full, intent) is { Length: > 0 })
            {
                leftOut.Add(full.Sheet is not null ? $"{full.Name}: given by its data sheet alone, so its pitch cannot be computed" : $"{full.Name}: has no input {string.Join(", ", Lacks(full, intent))}");
                continue;
            }
            schemes.AddRange(EachByItself(full, intent, count));
            foreach (Module follower in modules.Where(module => module.Pitch is { Control: null }))
                if (Fits(full, follower))
                    schemes.AddRange(OnLinks(full, follower, intent, links));
                else if (LinkReach.Header(full, "lead") is not null)
                    leftOut.Add($"{follower.Name} on {full.Name}: their headers differ");
        }
        return (schemes.ToImmutable(), leftOut.ToImmutable());
    }

    private static IEnumerable<Scheme> EachByItself(Module full, Intent intent, int count)
    {
        ImmutableArray<int> own = [.. Enumerable.Range(0, count)];
        string all = $"{count} × {full.Name}";
        if (count == 1)
        {
            yield return new(all, full, null, own, _ => SplitWay.Passive);
            yield break;
        }
        yield return new($"{all}, passive multiples", full, null, own, _ => SplitWay.Passive);
        yield return new($"{all}, buffered multiples", full, null, own, _ => SplitWay.Buffered);
        if (intent.Wishes.Any(wish => wish.To != full.Pitch!.Control && wish.Oscillators.Length > 1))
            yield return new($"{all}, {full.Pitch!.Control} buffered, the rest passive", full, null, own, wish => wish.To == full.Pitch!.Control ? SplitWay.Buffered : SplitWay.Passive);
        if (intent.Wishes.Any(wish => full.Passes.ContainsKey(wish.To)))
            yield return new($"{all}, outputs chained", full, null, own, wish => full.Passes.ContainsKey(wish.To) ? SplitWay.Chained : SplitWay.Passive);
    }

    private static IEnumerable<Scheme> OnLinks(Module full, Module follower, Intent intent, LinkBook links)
    {
        int count = intent.Oscillators.Length;
        if (count < 2)
            yield break;
        // What a lead's controls do reaches its followers: the one that stands nearest to the voice's pitch leads.
        double[] stands = [.. intent.Oscillators.Select(oscillator => Math.Abs(oscillator.StandsCents))];
        yield return new($"1 × {full.Name}, {Hanging(count - 1)} on its link", full, follower, [.. Enumerable.Repeat(Array.IndexOf(stands, stands.Min()), count)], _ => SplitWay.Passive);
        if (count < 3)
            yield break;
        ImmutableArray<int> leadOf = Groups.Best(stands, groups => Misfit(groups, intent, full, follower, links));
        string name = $"2 × {full.Name}, {Hanging(count - 2)} on their links";
        yield return new($"{name}, passive multiples", full, follower, leadOf, _ => SplitWay.Passive);
        yield return new($"{name}, buffered multiples", full, follower, leadOf, _ => SplitWay.Buffered);
    }

    private static int Misfit(ImmutableArray<int> leadOf, Intent intent, Module full, Module follower, LinkBook links) =>
        intent.Wishes.Select(wish => Reception.Of(wish, intent, full, follower, leadOf, links)).Sum(reached => reached.Missed.Length + reached.More.Length);

    private static bool Fits(Module full, Module follower) =>
        LinkReach.Header(full, "lead") is { } from && LinkReach.Header(follower, "follower") is { } to && from.Terminals.Length == to.Terminals.Length;

    private static string[] Lacks(Module full, Intent intent)
    {
        return [.. intent.Wishes.Select(wish => wish.To).Distinct().Except(Jacks.Inputs(full))];
    }

    private static string Hanging(int followers) => followers == 1 ? "1 follower" : $"{followers} followers";
}
