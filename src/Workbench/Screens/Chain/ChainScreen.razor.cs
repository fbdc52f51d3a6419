using System.Collections.Immutable;
using Consort.Engine.Pitch;
using Consort.Workbench.Charts;

namespace Consort.Workbench.Screens.Chain;

/// <summary>How many followers can hang on the lead, and what fails first?</summary>
public sealed partial class ChainScreen
{
    private ChainStudy Study => State.Proof!.Chain!;

    private ChartData Error =>
        Plot("chain-error", "Pitch error of the worst follower against the lead", "cents off the lead", "cents", 3, 0, point => Math.Abs(point.WorstCents)) with
        {
            Levels = [new(State.Proof!.Limits.FollowerCents, $"limit {State.Proof.Limits.FollowerCents:0.##}")],
            Band = (0, State.Proof.Limits.FollowerCents),
            FromZero = true,
        };

    private ChartData Drive =>
        Plot("chain-drive", "Current that the busiest link buffer has left", "drive left, mA", "mA", 1, 1, point => 1e3 * point.DriveLeftAmps) with { Levels = [new(0, "overload below")] };

    private ChartData Peaking => Plot("chain-peaking", "Peaking of the worst link buffer into the ribbon", "peaking, dB", "dB", 2, 2, point => point.PeakingDb) with { FromZero = true };

    private ChartData Plot(string key, string title, string scale, string unit, int digits, int style, Func<ChainPoint, double> value) =>
        new(key, title, new("followers on the link", "followers", 0), new(scale, unit, digits), [new(scale, style, [.. Study.Points.Select(point => ((double)point.Followers, value(point)))])])
        {
            Marks = Carries,
            Height = 220,
        };

    private ImmutableArray<ChartMark> Carries => Study.Largest >= 0 && Study.FirstFailure is not null ? [new(Study.Largest, $"carries {Study.Largest}")] : [];
}
