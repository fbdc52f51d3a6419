using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>A scheme drawn out: the voice, and what it does not or need not do.</summary>
/// <param name="Voice">Wired; lengths of cords not yet known.</param>
/// <param name="Kinds">Which multiple of the shelf each multiple of the voice is.</param>
/// <param name="Unmet">Wishes that are not fulfilled.</param>
/// <param name="Extra">What reaches oscillators that were not to have it.</param>
internal sealed record Wired(Voice Voice, ImmutableArray<StockMultiple> Kinds, ImmutableArray<string> Unmet, ImmutableArray<string> Extra);

/// <summary>Draws schemes out: members, multiples, cords, ribbons.</summary>
/// <param name="voice">Where players, supply and limits come from.</param>
/// <param name="intent">What is wanted.</param>
/// <param name="multiples">Multiples at hand.</param>
/// <param name="links">What links carry.</param>
internal sealed class Builder(Voice voice, Intent intent, ImmutableArray<StockMultiple> multiples, LinkBook links)
{
    private const double UsualRibbon = 0.12; // m, until the panels have places
    private const double UsualGauge = 28; // AWG: flat cable of 1.27 mm pitch

    private readonly List<Multiple> used = [];
    private readonly List<StockMultiple> kinds = [];
    private readonly List<Cord> cords = [];
    private readonly List<string> unmet = [];
    private readonly List<string> extra = [];

    /// <summary>The voice of a scheme; null when the multiples at hand cannot split its signals.</summary>
    public Wired? Build(Scheme scheme)
    {
        foreach (List<string> list in (List<string>[])[unmet, extra])
            list.Clear();
        used.Clear();
        kinds.Clear();
        cords.Clear();
        foreach (Wish wish in intent.Wishes)
            if (!Connect(wish, scheme))
                return null;
        // Followers stand beside their lead: its ribbon is short then.
        ImmutableArray<Member> members = [.. Enumerable.Range(0, intent.Oscillators.Length).OrderBy(i => scheme.LeadOf.IndexOf(scheme.LeadOf[i])).ThenBy(i => i != scheme.LeadOf[i]).Select(i => Member(intent.Oscillators[i], i, scheme))];
        Voice wired = voice with { Members = members, Multiples = [.. used], Cords = [.. cords], Ribbons = [.. Ribbons(scheme)], Plan = null };
        return new(wired, [.. kinds], [.. unmet], [.. extra]);
    }

    private Member Member(PlannedOscillator oscillator, int i, Scheme scheme)
    {
        Module module = scheme.LeadOf[i] == i ? scheme.Full : scheme.Follower!;
        // Settings that the voice states for this member hold where the same module stands there.
        Member? known = voice.Members.FirstOrDefault(member => member.Name == oscillator.Name && member.Module.At.File == module.At.File);
        return new(oscillator.Name, module, oscillator.StandsCents, known?.Set ?? ImmutableDictionary<string, double>.Empty, SourceSpan.None);
    }

    private IEnumerable<Ribbon> Ribbons(Scheme scheme)
    {
        if (scheme.Follower is not { } follower)
            yield break;
        string from = LinkReach.Header(scheme.Full, "lead")!.Texts["value"], to = LinkReach.Header(follower, "follower")!.Texts["value"];
        foreach (int lead in scheme.Leads)
        {
            ImmutableArray<JackName> followers = [.. Enumerable.Range(0, scheme.LeadOf.Length).Where(i => i != lead && scheme.LeadOf[i] == lead).Select(i => new JackName(NameOf(i), to))];
            if (!followers.IsEmpty)
                yield return new(new(NameOf(lead), from), followers, UsualRibbon, voice.Ribbons.FirstOrDefault()?.Gauge ?? UsualGauge, SourceSpan.None);
        }
    }

    private string NameOf(int i) => intent.Oscillators[i].Name;

    private bool Connect(Wish wish, Scheme scheme)
    {
        Reception reached = Reception.Of(wish, intent, scheme.Full, scheme.Follower, scheme.LeadOf, links);
        if (!reached.Missed.IsEmpty)
            unmet.Add($"{wish.Player} does not reach {wish.To} of {Names(reached.Missed)}: the link does not carry it");
        if (!reached.More.IsEmpty)
            extra.Add($"{wish.Player} reaches {wish.To} of {Names(reached.More)} too: the link carries it to all");
        return scheme.WayOf(wish) == SplitWay.Chained ? Chain(wish, scheme.Full, reached.Plugged) : Split(wish, reached.Plugged, scheme.WayOf(wish) == SplitWay.Buffered);
    }

    private string Names(ImmutableArray<int> oscillators) => string.Join(", ", oscillators.Select(NameOf));

    private bool Chain(Wish wish, Module full, ImmutableArray<int> plugged)
    {
        JackName from = new(wish.Player, "out");
        foreach (int i in plugged)
        {
            Plug(from, new(NameOf(i), wish.To));
            from = new(NameOf(i), full.Passes[wish.To]);
        }
        return true;
    }

    private bool Split(Wish wish, ImmutableArray<int> plugged, bool buffered)
    {
        if (Splitting.Fewest(plugged.Length, [.. multiples.Where(kind => kind.Buffered == buffered)]) is not { } chosen)
            return false;
        Queue<JackName> outputs = new([new JackName(wish.Player, "out")]);
        foreach (StockMultiple kind in chosen)
        {
            string name = $"{wish.To} split {used.Count(multiple => multiple.Name.StartsWith($"{wish.To} split ", StringComparison.Ordinal)) + 1}";
            used.Add(kind.Design with { Name = name, Width = kind.Width / kind.Sections });
            kinds.Add(kind);
            Plug(outputs.Dequeue(), new(name, "in"));
            foreach (int way in Enumerable.Range(1, kind.Ways))
                outputs.Enqueue(new(name, $"{way}"));
        }
        foreach (int i in plugged)
            Plug(outputs.Dequeue(), new(NameOf(i), wish.To));
        return true;
    }

    private void Plug(JackName from, JackName to) => cords.Add(new(from, to, 0.6, SourceSpan.None));
}
