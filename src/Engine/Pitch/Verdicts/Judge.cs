using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Pitch.Verdicts;

/// <summary>Makes the proof of what was read.</summary>
internal static class Judge
{
    // A trimmer closer to its end than this has no room for the next unit.
    private const double UsableRange = 0.95;

    private const string NoBuilds =
        "Spread of parts: every figure is of the nominal circuit, trimmed; tolerances appear as what one part at its limit would add.";

    private const string OfBuilds =
        "In builds: parts whose spread is not stated, the tuner's own error, what a trimmer moves after it was set, and ageing.";

    private static readonly ImmutableArray<string> NotModelled =
    [
        "Warm-up and gradients, but for resistors that make up for temperature (builds tell what their lag does) and for a pair's halves: all other parts are at one temperature, and no part heats itself.",
        "Hum, ripple and noise on rails and cords; the supply answers at once.",
        "Other oscillators' motion while one is read (compared with the whole voice in motion, see the accuracy table).",
        "Capacitance of ribbons and cords while pitch is read; it enters the stability of the link's buffers.",
        "Dielectric absorption of the timing capacitor, and contact noise of controls.",
    ];

    public static Proof Proof(
        Voice voice,
        OscillatorSheet[] sheets,
        ImmutableArray<TrimResult> trims,
        ChainStudy? chain,
        SupplyLoad supply,
        ImmutableArray<BoughtTracking> bought,
        ImmutableArray<AccuracyNote> accuracy,
        SpreadResult? spread
    )
    {
        ImmutableArray<TemperatureShift> shifts = DriftClaim.Shifts(voice, sheets);
        Claim?[] claims =
        [
            TrackingClaim.Of(voice, sheets),
            DriftClaim.Of(voice, sheets, shifts),
            FollowerClaim.Of(voice, sheets),
            YieldClaim.Of(spread),
            BoughtClaim.Of(voice, bought),
            Chain(voice, chain),
            Trims(trims),
            Supply(supply),
            Contacts(supply),
            Honesty(voice, accuracy),
        ];
        int curves = sheets[0].Curves.Length;
        return new(
            voice.Name,
            voice.About,
            voice.Limits,
            [.. claims.OfType<Claim>()],
            [.. Enumerable.Range(0, curves).SelectMany(t => sheets.Select(sheet => sheet.Curves[t]))],
            shifts,
            [.. sheets.Select(sheet => sheet.Budget)],
            chain,
            trims,
            accuracy,
            Notes(voice, supply),
            [spread is null ? NoBuilds : OfBuilds, .. NotModelled]
        )
        {
            Spread = spread,
        };
    }

    private static Claim? Chain(Voice voice, ChainStudy? chain)
    {
        if (chain is null)
            return null;
        int asked = voice.Limits.Followers ?? voice.Ribbons[0].To.Length;
        bool passed = chain.Largest >= asked;
        int most = chain.Points.Length - 1;
        string cause = chain.FirstFailure is null ? $"no limit found up to {most}" : $"at {chain.Largest + 1}: {chain.FirstFailure}";
        Reason why = Reasons.Words(
            chain.FirstFailure is null
                ? $"every number of followers from 0 to {most} keeps all limits"
                : $"{chain.Largest} followers keep all limits; the next one does not: {chain.FirstFailure}",
            [
                .. chain.Points.Select(point => Reasons.Figure(
                    $"{point.Followers} followers: buffer has {point.DriveLeftAmps * 1e3:F1} mA left, {point.PeakingDb:F1} dB of peaking, "
                        + $"{point.GroundOffsetVolts * 1e6:F0} µV of ground, {point.RailDropVolts * 1e3:F0} mV of rail lost",
                    point.WorstCents,
                    "cents"
                )),
            ]
        );
        return new(
            "chain",
            $"Followers that {chain.Lead} carries",
            chain.Largest,
            asked,
            LimitSense.AtLeast,
            "followers",
            passed,
            cause,
            chain.Mend,
            why
        );
    }

    private static Claim? Trims(ImmutableArray<TrimResult> trims)
    {
        if (trims.IsEmpty)
            return null;
        TrimResult worst = trims.MaxBy(trim => trim.Reached ? trim.RangeUsed : 1 + trim.RangeUsed)!;
        bool passed = trims.All(trim => trim.Reached && trim.RangeUsed <= UsableRange);
        Reason why = Reasons.Words(
            "where each trimmer came to stand, in per cent of its travel from the middle",
            [
                .. trims.Select(trim => Reasons.Figure(
                    $"{trim.Oscillator}/{trim.Trimmer} ({Purpose(trim.Purpose)}) stands at {trim.Position * 100:F1} % of its turn"
                        + (trim.Reached ? "" : ", at its end before the pitch was right"),
                    trim.RangeUsed * 100,
                    "%"
                )),
            ]
        );
        return new(
            "trims",
            "Largest share of a trimmer's range that trimming takes",
            100 * worst.RangeUsed,
            100 * UsableRange,
            LimitSense.AtMost,
            "%",
            passed,
            $"{worst.Oscillator}/{worst.Trimmer} ({Purpose(worst.Purpose)}) at {worst.Position * 100:F0} % of its turn"
                + (worst.Reached ? "" : ", not enough"),
            passed ? null : $"a trimmer of more range, or fixed values that put {worst.Oscillator}/{worst.Trimmer} nearer to its middle",
            why
        );
    }

    private static string Purpose(TrimPurpose purpose) =>
        purpose switch
        {
            TrimPurpose.Tracking => "tracking",
            TrimPurpose.Centre => "centre",
            TrimPurpose.HighEnd => "high end",
            _ => "other",
        };

    private static Claim? Supply(SupplyLoad supply)
    {
        if (supply.Rails.IsEmpty)
            return null;
        RailLoad worst = supply.Rails.MaxBy(rail => rail.Amps / rail.Limit);
        double share = 100 * worst.Amps / worst.Limit;
        return new(
            "supply",
            "Largest share of a rail's limit that the voice takes at rest",
            share,
            100,
            LimitSense.AtMost,
            "%",
            share <= 100,
            $"{worst.Rail}: {worst.Amps * 1e3:F0} mA of {worst.Limit * 1e3:F0} mA",
            share <= 100 ? null : "a stronger supply, or fewer modules on it",
            Reasons.Words("current of each rail", [.. supply.Rails.Select(rail => Reasons.Figure($"{rail.Rail}, limit {rail.Limit * 1e3:F0} mA", rail.Amps * 1e3, "mA"))])
        );
    }

    private static Claim? Contacts(SupplyLoad supply)
    {
        const int Told = 8;
        if (supply.Contacts.IsEmpty)
            return null;
        ContactLoad worst = supply.Contacts[0];
        double share = 100 * worst.Amps / worst.Rating;
        return new(
            "contacts",
            "Largest share of its rating that a contact of a ribbon or power connector carries at rest",
            share,
            100,
            LimitSense.AtMost,
            "%",
            share <= 100,
            $"{worst.Wire}: {worst.Amps * 1e3:G3} mA of {worst.Rating:G3} A",
            share <= 100 ? null : "more wires side by side for that net, or a thicker wire",
            Reasons.Words(
                "the heaviest loaded contacts",
                [.. supply.Contacts.Take(Told).Select(load => Reasons.Figure($"{load.Wire}, rated {load.Rating:G3} A", load.Amps * 1e3, "mA"))]
            )
        );
    }

    // A verdict is worth nothing when the short cuts behind it are not small against the limit.
    private static Claim? Honesty(Voice voice, ImmutableArray<AccuracyNote> accuracy)
    {
        if (accuracy.IsEmpty)
            return null; // nothing was compared yet
        double limit = 0.1 * voice.Limits.TrackingCents;
        AccuracyNote worst = accuracy.Where(note => note.Unit == "cents").MaxBy(note => double.IsNaN(note.Figure) ? double.MaxValue : note.Figure)!;
        bool passed = worst.Figure <= limit;
        return new(
            "method",
            "Largest disagreement of this proof's short cuts with the long way",
            worst.Figure,
            limit,
            LimitSense.AtMost,
            "cents",
            passed,
            worst.What,
            passed ? null : "read the verdict as unproved: the figures are not good enough for this limit",
            Reasons.Words("what was compared", [.. accuracy.Select(note => Reasons.Figure($"{note.What}, against {note.Against}", note.Figure, note.Unit))])
        );
    }

    private static ImmutableArray<string> Notes(Voice voice, SupplyLoad supply)
    {
        List<string> notes = [];
        foreach (Member member in voice.Members.Where(member => member.Module.Sheet is not null))
            notes.Add($"{member.Name} is known by its data sheet only: it loads the voice, and how it tracks is what the sheet promises.");
        if (!supply.Rails.IsEmpty)
            notes.Add("Rail currents are at rest, without what is plugged into the outputs.");
        return [.. notes];
    }
}
