using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Consort.Engine.Orders;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Planning;

/// <summary>Finds every sensible way to wire a voice from the modules at hand, and what each takes.</summary>
/// <param name="voice">Players, supply, limits; and what is wanted, as its plan or its wiring says.</param>
/// <param name="modules">Modules at hand.</param>
/// <param name="stock">Prices, and the multiples that can be had.</param>
/// <param name="library">Where packages of models stand.</param>
/// <param name="threads">How many may work; the result does not depend on it.</param>
public sealed class Planner(Voice voice, ImmutableArray<Module> modules, Stock stock, PartsLibrary library, int threads)
{
    /// <summary>Builds of each way that are to be made, for its yield; null for none.</summary>
    public SpreadRequest? Spread { get; init; }

    /// <summary>True when the lock range of each way is to be read.</summary>
    public bool Locks { get; init; }

    private readonly LinkBook links = new(voice.Supply);

    /// <summary>All of them, or why there are none.</summary>
    public (WiringPlan? Plan, Unproved? Failure) Run(IProgress<(string Stage, double Done)>? progress = null, CancellationToken cancel = default)
    {
        Intent intent = Intent.Of(voice, links);
        if (intent.Oscillators.IsEmpty || intent.Wishes.IsEmpty || !voice.Players.Any(player => player.IsPitch))
            return (null, new("there is nothing to wire", "state 'plan: {oscillators: ..., wishes: ...}' and a player that plays pitch"));
        (ImmutableArray<(Scheme Scheme, Wired Wired)> ways, ImmutableArray<string> leftOut) = Drawn(intent);
        if (ways.IsEmpty)
            return (null, new("no module at hand can be wired so", leftOut.IsEmpty ? "add a module with a pitch jack to the folder 'modules'" : string.Join("; ", leftOut)));
        (Alternative[]? found, Unproved? failure) = Weighed(ways, intent, progress, cancel);
        return found is null ? (null, failure) : (new(voice.Name, intent, Compared(found), leftOut, Notes()), null);
    }

    private (ImmutableArray<(Scheme, Wired)> Ways, ImmutableArray<string> LeftOut) Drawn(Intent intent)
    {
        (ImmutableArray<Scheme> schemes, ImmutableArray<string> leftOut) = Scheme.All(intent, modules, links);
        Builder builder = new(voice, intent, Multiples(), links);
        IntervalSetting intervals = new(voice);
        ImmutableArray<(Scheme Scheme, Wired? Wired)> drawn = [.. schemes.Select(scheme => (scheme, builder.Build(scheme) is { } wired ? intervals.Of(wired) : null))];
        return (
            [.. drawn.Where(pair => pair.Wired is not null).Select(pair => (pair.Scheme, pair.Wired!))],
            [.. leftOut, .. drawn.Where(pair => pair.Wired is null).Select(pair => $"{pair.Scheme.Name}: no such multiples in stock.yaml")]
        );
    }

    private (Alternative[]? Found, Unproved? Failure) Weighed(ImmutableArray<(Scheme Scheme, Wired Wired)> ways, Intent intent, IProgress<(string, double)>? progress, CancellationToken cancel)
    {
        WiringPitch pitch = new(Prover.BudgetNotes(voice with { Members = [.. modules.Where(module => module.Pitch is not null).Select(Stand)] }));
        int done = 0;
        double all = ways.Length * (1 + (Spread is null ? 0 : 1) + (Locks ? 1 : 0));
        WayWork work = new(threads, i => progress?.Report((ways[i].Scheme.Name, Interlocked.Increment(ref done) / all)), cancel) { Spread = Spread, Locks = Locks };
        (WeighedWay[] weighed, WayLock[]? locks, WayBuilds[]? builds) = work.Run(ways.Select<(Scheme Scheme, Wired Wired), Func<WeighedWay>>(way => () => Weigh(way.Scheme, way.Wired, intent, pitch, cancel))).GetAwaiter().GetResult();
        int failed = Array.FindIndex(weighed, one => one.Found is null);
        return failed < 0
            ? ([.. weighed.Select((one, i) => one.Found! with { Builds = builds?[i], Lock = locks?[i] })], null)
            : (null, new($"{ways[failed].Scheme.Name}: {weighed[failed].Failure}", "look at the module's circuit with 'consort solve'"));
    }

    private static Member Stand(Module module) => new(module.Name, module, 0, ImmutableDictionary<string, double>.Empty, module.At);

    // A folder whose shelf names none is given the usual passive one (common practice, no source), without a price.
    private ImmutableArray<StockMultiple> Multiples() =>
        stock.Multiples.Any(multiple => multiple.Ways > 1)
            ? stock.Multiples
            : [new(false, 3, 4 * 5.08e-3, 0.02, null, 0, new("multiple", false, 3, 4 * 5.08e-3, 0, 0, 0, SourceSpan.None))];

    private WeighedWay Weigh(Scheme scheme, Wired wired, Intent intent, WiringPitch pitch, CancellationToken cancel)
    {
        RowLayout layout = new(wired, intent.Case.Row);
        Voice measured = layout.Measured();
        (WiringReading? reading, TrimmedWay? way, SolveFailure? failure) = pitch.Read(measured, cancel);
        if (reading is null || way is null)
            return new(null, null, failure);
        (decimal price, int unpriced) = Price(measured, wired, layout);
        double depth = Math.Max(measured.Members.Max(member => member.Module.Panel.Depth), wired.Kinds.Select(kind => kind.Depth).DefaultIfEmpty().Max());
        CaseCheck check = CaseCheck.Of(way.Played, way.AtRest, layout.Places, intent.Case, reading.BusCents, Standing(wired));
        return new(
            new(scheme.Name, measured, layout.Places, layout.Width, layout.Rows, depth, measured.Cords.Length, measured.Cords.Sum(cord => cord.Length),
                measured.Multiples.Length, FreeInputs(measured), price, unpriced, reading, check, wired.Unmet, wired.Extra, false, ""),
            way,
            null
        );
    }

    // What a buffered multiple draws beyond its buffers' own currents, which the circuit already holds.
    private static double Standing(Wired wired)
    {
        double buffer = PartKinds.Find("op amp")!.Parameters.First(parameter => parameter.Word == "supply current").Default!.Value;
        return wired.Kinds.Where(kind => kind.Buffered).Sum(kind => Math.Max(0, (kind.Current / kind.Sections) - (kind.Ways * buffer)));
    }

    private (decimal Price, int Unpriced) Price(Voice measured, Wired wired, RowLayout layout)
    {
        PartsOrder order = new PartsLister(measured with { Multiples = [] }, stock, library).List(1);
        StockMultiple[] bought = [.. layout.Places.Where(place => !place.Holds.IsEmpty).Select(place => wired.Kinds[measured.Multiples.IndexOf(measured.Multiples.First(multiple => multiple.Name == place.Holds[0]))])];
        return (order.VoiceCost + bought.Sum(kind => (decimal)(kind.Price ?? 0)), order.Unpriced + bought.Count(kind => kind.Price is null));
    }

    private static int FreeInputs(Voice measured)
    {
        HashSet<JackName> taken = [.. measured.Cords.SelectMany<Cord, JackName>(cord => [cord.From, cord.To])];
        return measured.Members.Sum(member => Jacks.Inputs(member.Module).Count(label => !taken.Contains(new(member.Name, label))));
    }

    // Every way first bears its own count of free inputs; what is lost is against the way with most of them.
    private static ImmutableArray<Alternative> Compared(Alternative[] found)
    {
        int most = found.Max(alternative => alternative.FreeInputsLost);
        Alternative[] all = [.. found.Select(alternative => alternative with { FreeInputsLost = most - alternative.FreeInputsLost }).OrderByDescending(alternative => alternative.WidthMetres)];
        return [.. all.Select(one => one with { IsUnbeaten = !all.Any(other => other.Beats(one)), Sentence = Difference.Sentence(one, all) })];
    }

    private ImmutableArray<string> Notes() =>
        [
            "'moved': an oscillator in the voice against itself alone (a follower with its lead) on a source without resistance, trims as the modules' files have them; this is what a pulled cord changes. 'tracks' and 'apart': all trimmed in place.",
            "Cords are as long as the way along and across the panels and 15 cm for plugs and bow, rounded up to the lengths of the trade; players stand 30 cm beside the case (common practice, no source).",
            "Inrush is what an ideal supply would give into the modules' empty capacitors: an upper bound.",
            .. Spread is null ? (string[])["Not in these tables: the share of builds that meet the limits ('--builds N')."] : [Yields(Spread)],
            Locks
                ? "'locks over': width of the range of detune over which two oscillators lock, widest of all pairs that are to stand within a semitone, at mid keyboard; from how each one's period answers to what the other brings ('consort lock' checks that against both in motion). Which pair that is, a first look tells, for which all that lies between oscillators answers as it does at rest; in the six ways of the quartet it names the pair that readings of all pairs name."
                : "Not in these tables: the range over which oscillators lock ('--lock').",
        ];

    private static string Yields(SpreadRequest spread) => string.Create(CultureInfo.InvariantCulture,
        $"'yield': share of {spread.Builds:N0} builds (seed {spread.Seed}), each trimmed in place, that keep the limits of tracking, drift and followers over the octaves that are asked, at three temperatures; ways are drawn from the same seed. What parts do inside a module's core is surveyed in the way that tracks best and serves the others, where nothing outside the module acts in it.");
}
