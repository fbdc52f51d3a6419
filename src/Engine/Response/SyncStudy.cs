using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Response;

/// <summary>Tries by which switch an oscillator lets itself be synced: to the resets of the lead whose ribbon it hangs on, and
/// to pulses at a jack that may be a sync input by its name or by what it does.</summary>
/// <param name="ready">Trimmed; it is left alone.</param>
/// <param name="one">The oscillator.</param>
/// <param name="volts">On the keyboard, V.</param>
internal sealed class SyncStudy(PlayedVoice ready, KnownOscillator one, double volts)
{
    /// <summary>One way of one selector, under one source.</summary>
    public sealed record Trial(string? Lead, Drive? Jack, string? Selector, int Way, string WayWords)
    {
        /// <summary>What leads it.</summary>
        public string Source => Jack?.Name ?? Lead!;
    }

    /// <summary>What came of a trial; no sheet when it is not caught.</summary>
    public sealed record Outcome(Trial Trial, SyncSheet? Sheet);

    /// <summary>All that is to be tried.</summary>
    public IEnumerable<Trial> Trials
    {
        get
        {
            IEnumerable<(string?, Drive?)> ribbons = ready.Voice.Ribbons.Where(ribbon => ribbon.To.Any(to => to.Owner == one.Name)).Select(ribbon => ribbon.From.Owner).Distinct()
                .Where(lead => ready.Oscillators.Any(other => other.Name == lead)).Select(lead => ((string?)lead, (Drive?)null));
            IEnumerable<(string?, Drive?)> jacks = one.Drives.Where(drive => drive.Owner == one.Name && one.MaySync(drive)).Select(drive => ((string?)null, (Drive?)drive));
            Part[] selectors = [.. one.Member.Module.Circuit.Where(part => part.Kind.Word == "selector")];
            foreach ((string? lead, Drive? jack) in ribbons.Concat(jacks))
                if (selectors.Length == 0)
                    yield return new(lead, jack, null, 0, "");
                else
                    foreach (Part selector in selectors)
                    {
                        string[] ways = [.. selector.Terminals.Where(joint => joint.Terminal != "pole").Select(joint => joint.Net)];
                        for (int way = 0; way < ways.Length; way++)
                            yield return new(lead, jack, selector.Name, way + 1, $"{selector.Name} at {ways[way]}");
                    }
        }
    }

    /// <summary>Tries one.</summary>
    public (Outcome? Outcome, SolveFailure? Failure) Try(Trial trial)
    {
        string output = one.Waves.FirstOrDefault() ?? one.Outputs[0];
        string selector = $"{one.Name}/{trial.Selector}";
        (DrivenOscillator? free, SolveFailure? failure) = DrivenOscillator.Of(ready, one.Name, null, [], volts);
        if (free is null)
            return (null, failure);
        if (trial.Selector is not null)
            free.Set(selector, "value", trial.Way);
        (SteadyPeriod? period, SolveFailure? broken) = free.Read();
        if (period is null)
            return (null, broken);
        if (!double.IsFinite(period.Hertz))
            return (new(trial, null), null);
        (SyncMaster? master, SolveFailure? unready) = SyncMaster.Of(ready, one.Name, trial.Lead, trial.Jack, output, trial.Selector is null ? [] : [(selector, trial.Way)], volts);
        if (master is null)
            return (null, unready);
        (SyncSheet? sheet, SolveFailure? lost) = new SyncRange(master, period.Hertz).Read(trial.Source, trial.WayWords, output);
        return lost is null ? (new Outcome(trial, sheet), null) : (null, lost);
    }

    /// <summary>The sheets worth showing: a selector counts when some of its ways sync and some do not; when none does that
    /// although it is synced, it is so as it stands.</summary>
    public static IEnumerable<SyncSheet> Choose(IReadOnlyList<Outcome> outcomes)
    {
        foreach (IGrouping<string, Outcome> source in outcomes.GroupBy(outcome => outcome.Trial.Source))
        {
            IGrouping<string?, Outcome>[] selectors = [.. source.GroupBy(outcome => outcome.Trial.Selector)];
            SyncSheet[] deciding = [.. selectors.Where(selector => selector.Any(outcome => outcome.Sheet is null)).SelectMany(selector => selector).Select(outcome => outcome.Sheet).OfType<SyncSheet>()];
            if (deciding.Length > 0)
                foreach (SyncSheet sheet in deciding)
                    yield return sheet;
            else if (source.Select(outcome => outcome.Sheet).OfType<SyncSheet>().FirstOrDefault() is { } any)
                yield return any with { Way = "" };
        }
    }
}
