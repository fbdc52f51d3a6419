using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Pitch.Builds.Spread;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Verdicts;

/// <summary>Do enough builds keep every limit once they are trimmed?</summary>
internal static class YieldClaim
{
    private const int Told = 12;

    public static Claim? Of(SpreadResult? spread)
    {
        if (spread is null)
            return null;
        // The interval's lower end must do: what so many builds cannot show is not claimed.
        bool passed = spread.Yield.Low >= spread.Asked;
        SpreadFigure worst = spread.Figures.MinBy(figure => figure.Kept.Share)!;
        PartShare? part = Largest(spread, worst.Key);
        string cause =
            worst.Kept.Share >= 1
                ? "no build misses a limit"
                : $"{worst.Key} misses in {ShareText.Write(1 - worst.Kept.Share)} of builds"
                    + (part is null ? "" : $"; most of its spread comes from {part.Part}, {part.Parameter}");
        return new(
            "yield",
            $"Share of {spread.Builds.ToString("N0", CultureInfo.InvariantCulture)} trimmed builds that keep tracking, drift and follower limits",
            100 * spread.Yield.Share,
            100 * spread.Asked,
            LimitSense.AtLeast,
            "%",
            passed,
            $"{cause} (95 % interval {ShareText.Write(spread.Yield.Low)} to {ShareText.Write(spread.Yield.High)})",
            passed ? null : Mend(spread, worst, part),
            Why(spread)
        );
    }

    private static PartShare? Largest(SpreadResult spread, string key) => spread.Shares.IsEmpty ? null : spread.Shares.MaxBy(share => share.Of(key));

    private static string Mend(SpreadResult spread, SpreadFigure worst, PartShare? part)
    {
        TrimmerUse? atEnd = spread.Trimmers.Where(use => use.RunsOut.Share > 0.01).MaxBy(use => use.RunsOut.Share);
        if (atEnd is not null)
            return $"more range or another centre for {atEnd.Oscillator}/{atEnd.Trimmer}, which comes to its end in {ShareText.Write(atEnd.RunsOut.Share)} of builds";
        return part is null ? "more builds, or wider limits" : $"a closer {part.Parameter} for {part.Part}, which brings {ShareText.Write(part.Of(worst.Key))} of that spread";
    }

    private static Reason Why(SpreadResult spread)
    {
        ImmutableArray<Reason> figures =
        [
            .. spread.Figures.Select(figure => Reasons.Figure(
                $"{figure.Key}: kept by {ShareText.Write(figure.Kept.Share)}; half of all builds stay within {figure.Median:F2} cents, nineteen of twenty within {figure.Most:F2}, the worst has",
                figure.Worst,
                "cents"
            )),
        ];
        ImmutableArray<Reason> trimmers =
        [
            .. spread.Trimmers.Select(use => Reasons.Figure(
                $"{use.Oscillator}/{use.Trimmer}: nine of ten stand between {ShareText.Write(use.Low)} and {ShareText.Write(use.High)} of the turn; comes to its end in",
                100 * use.RunsOut.Share,
                "%"
            )),
        ];
        ImmutableArray<Reason> parts =
        [
            .. spread.Shares.Take(Told).Select(share => Reasons.Figure(
                $"{share.Part}, {share.Parameter}: {ShareText.Write(share.Tracking)} of the tracking's variance, {ShareText.Write(share.Drift)} of the drift's, {ShareText.Write(share.Followers)} of the followers', ± {ShareText.Write(share.Error)}",
                100 * share.Largest,
                "%"
            )),
        ];
        ImmutableArray<Reason> worst =
        [
            .. spread.Worst.Select(build => Reasons.Figure(
                $"build {build.Number} ({build.Where}): drift {build.DriftCents:F1}, follower {build.FollowerCents:F1}, tracking",
                build.TrackingCents,
                "cents"
            )),
        ];
        return Reasons.Words(
            $"{spread.Yield.Passed} of {spread.Yield.Of} builds keep every limit; {spread.Points}",
            Reasons.Words("against each limit", [.. figures]),
            Reasons.Words("trimmers", [.. trimmers]),
            Reasons.Words("parts that bring most of what trimming leaves (linear share of the variance)", [.. parts]),
            Reasons.Words($"worst builds (consort prove VOICE --build NUMBER --seed {spread.Seed})", [.. worst])
        );
    }
}
