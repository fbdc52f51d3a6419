using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Engine.Pitch.Live;

/// <summary>How an answer came about.</summary>
public enum AnswerKind
{
    /// <summary>From the laws of the voice as it was last read, with the changed parts moved in them.</summary>
    Estimate,

    /// <summary>From full transients of the design as it is now; builds, chain and checks are still to come.</summary>
    Read,

    /// <summary>The whole proof.</summary>
    Proved,
}

/// <summary>What is known of an edited voice so far. Later answers take the place of earlier ones.</summary>
/// <param name="Kind">How it came about.</param>
/// <param name="Sureness">How good the figures are, in a sentence.</param>
/// <param name="Figures">The worst of the design against each limit in cents: tracking, drift, followers.</param>
/// <param name="Tracking">Every oscillator at every temperature, the reference temperature first.</param>
/// <param name="Trims">Where trimmers come to stand in the design; empty while they are not known.</param>
/// <param name="Spread">What trimmed builds do; null while none were made.</param>
/// <param name="Proof">Everything that a proof holds so far; null while there are curves alone.</param>
/// <param name="Milliseconds">From the question to this answer, ms.</param>
public sealed record LiveAnswer(
    AnswerKind Kind,
    string Sureness,
    ImmutableArray<LiveFigure> Figures,
    ImmutableArray<TrackingCurve> Tracking,
    ImmutableArray<TrimResult> Trims,
    SpreadResult? Spread,
    Proof? Proof,
    double Milliseconds
)
{
    /// <summary>Share of builds that keep every limit, with its interval; null while none were made.</summary>
    public YieldInterval? Yield => Spread?.Yield;
}

/// <summary>One figure of the design.</summary>
/// <param name="Key">The claim that it belongs to: <c>tracking</c>, <c>drift</c>, <c>followers</c>.</param>
/// <param name="Cents">What was found; infinite when something does not oscillate.</param>
/// <param name="Limit">What is asked, cents.</param>
public sealed record LiveFigure(string Key, double Cents, double Limit)
{
    /// <summary>True within the limit.</summary>
    public bool Passed => Cents <= Limit;

    /// <summary>The figures of a voice, from its curves as a proof has them.</summary>
    internal static ImmutableArray<LiveFigure> Of(Voice voice, ImmutableArray<TrackingCurve> curves)
    {
        TrackingCurve[] bench = [.. curves.Where(curve => curve.Kelvin == curves[0].Kelvin)];
        TrackingCurve Beside(TrackingCurve curve, string oscillator) => curves.First(other => other.Oscillator == oscillator && other.Kelvin == curve.Kelvin);
        TrackingCurve Bench(string oscillator) => bench.First(curve => curve.Oscillator == oscillator);
        double Worst(TrackingCurve curve, TrackingCurve? against) =>
            curve
                .Points.Select((point, i) => (point.ControlVolts, Cents: point.Cents - (against?.Points[i].Cents ?? 0)))
                .Where(point => voice.Limits.Asks(point.ControlVolts, voice.VoltsPerOctave))
                .Max(point => double.IsNaN(point.Cents) ? double.PositiveInfinity : Math.Abs(point.Cents));
        TrackingCurve[] following = [.. curves.Where(curve => voice.LeadOf(curve.Oscillator) is { } lead && bench.Any(other => other.Oscillator == lead))];
        LiveFigure[] figures =
        [
            new("tracking", bench.Max(curve => Worst(curve, null)), voice.Limits.TrackingCents),
            new("drift", curves.Max(curve => Worst(curve, Bench(curve.Oscillator))), voice.Limits.DriftCents),
            new("followers", following.Select(curve => Worst(curve, Beside(curve, voice.LeadOf(curve.Oscillator)!))).DefaultIfEmpty(0).Max(), voice.Limits.FollowerCents),
        ];
        return [.. figures.Where(figure => figure.Key != "followers" || following.Length > 0)];
    }
}
