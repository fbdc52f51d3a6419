using System.Globalization;
using Consort.Engine.Documents;
using Consort.Engine.Pitch.Builds.Spread;
using Consort.Workbench.Charts;

namespace Consort.Workbench.Screens.Builds;

/// <summary>What do builds of real parts do, trimmed as a person trims them?</summary>
public sealed partial class BuildsScreen
{
    private const double Sigmas = 2;

    private string picked = "";

    private SpreadResult Spread => State.Spread!;

    private SpreadFigure Figure => Spread.Figures.FirstOrDefault(figure => figure.Key == Selection.Word("limit")) ?? Spread.Figures[0];

    private double[] Kelvins => [.. Spread.Notes.Select(band => band.Kelvin).Distinct().Order()];

    private double Kelvin => Kelvins.MinBy(kelvin => Math.Abs(kelvin - 273.15 - (Selection.Celsius ?? 25)));

    private ChartData Lies
    {
        get
        {
            double step = Figure.BinsTo / Math.Max(1, Figure.Bins.Length);
            return new($"builds-{Figure.Key}", $"Builds by their {Figure.Title}", new("cents", "cents", 3), new("builds", "builds", 0),
                [new("builds", 0, [.. Figure.Bins.Select((count, i) => (i * step, (double)count))])])
            {
                IsBars = true,
                FromZero = true,
                Marks = Figure.Limit <= Figure.BinsTo ? [new(Figure.Limit, $"limit {Figure.Limit:0.##}")] : [],
                Height = 220,
            };
        }
    }

    private ChartData Band
    {
        get
        {
            double limit = State.Design!.Voice.Limits.TrackingCents;
            SpreadBand[] bands = [.. Spread.Notes.Where(band => band.Kelvin == Kelvin)];
            return new($"builds-at-{Kelvin - 273.15:0}", $"Pitch errors of builds at {Figures.Celsius(Kelvin)}", new("control voltage, V", "V", 2), new("error, cents", "cents", 3),
                [.. bands.SelectMany((band, i) => new[] { Edge(band, i, 1), Edge(band, i, -1) })])
            {
                Levels = Figures.IsReference(Kelvin) ? [new(limit, $"limit {limit:0.##}"), new(-limit, "")] : [], // elsewhere the move is limited, not the error
            };
        }
    }

    private ChartData Wanders =>
        new("followers-in-builds", "Followers against their lead", new("control voltage, V", "V", 2), new("cents", "cents", 3),
            [.. Spread.Followers.GroupBy(one => one.Follower).Select((group, i) => new ChartLine(group.Key, i + 1, [.. group.Select(one => (one.ControlVolts, one.MostCents))]))])
        {
            FromZero = true,
            Levels = [new(State.Design!.Voice.Limits.FollowerCents, $"limit {State.Design.Voice.Limits.FollowerCents:0.##}")],
            Height = 240,
        };

    private static ChartLine Edge(SpreadBand band, int style, int sign) =>
        new(band.Oscillator, style, [.. band.ControlVolts.Select((volts, n) => (volts, band.Mean[n] + sign * Sigmas * band.Deviation[n]))]);

    private static string Px(double share) => (2 + 120 * Math.Clamp(share, 0, 1)).ToString("0.#", CultureInfo.InvariantCulture);

    private static string Span(TrimmerUse use) => Math.Max(1, 120 * (Math.Clamp(use.High, 0, 1) - Math.Clamp(use.Low, 0, 1))).ToString("0.#", CultureInfo.InvariantCulture);

    private string Part(string designator) =>
        designator.Split('/') is [string member, string part] ? Selection.Link("voice", ("member", member), ("part", part)) : Selection.Link("voice");

    private void Pick()
    {
        if (long.TryParse(picked.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out long number))
            Selection.Choose("build", number);
    }
}
