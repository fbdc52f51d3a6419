using System.Collections.Immutable;
using Consort.Engine.Bench.History;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Fit;
using Consort.Engine.Pitch;
using MathNet.Numerics.Distributions;

namespace Consort.Engine.Bench.Batches;

/// <summary>A part's share in what is foretold.</summary>
/// <param name="What">Which, as <c>C6 tolerance</c>.</param>
/// <param name="Share">Of the foretold variance, 0 to 1.</param>
/// <param name="Factor">By how much its tolerance would have to be multiplied for the measured variance, were all else as the shelf
/// says; null where its share is too small to tell, or where the measured spread may well be the foretold one.</param>
public readonly record struct SpreadCause(string What, double Share, double? Factor);

/// <summary>How far units lie apart in one figure of their pitch, against what the shelf's tolerances foretell.</summary>
/// <param name="What">The figure.</param>
/// <param name="Foretold">Standard deviation from tolerances, trimmers' places and the readings' uncertainty.</param>
/// <param name="Measured">Standard deviation of the units about their mean.</param>
/// <param name="Ratio">Measured over foretold, unit by unit: 1 where the tolerances are right.</param>
/// <param name="RatioLow">Lower end of its 95 % interval.</param>
/// <param name="RatioHigh">Upper end.</param>
/// <param name="Mean">How far the units' mean lies from the design.</param>
/// <param name="MeanWithin">Half of the 95 % interval of that mean.</param>
/// <param name="PartsShare">Share of the foretold variance that parts make, 0 to 1; trimmers set by eye and the readings' own
/// uncertainty make the rest.</param>
/// <param name="Causes">The parts that matter most, the largest share first.</param>
public sealed record BatchFigure(
    string What,
    double Foretold,
    double Measured,
    double Ratio,
    double RatioLow,
    double RatioHigh,
    double Mean,
    double MeanWithin,
    double PartsShare,
    ImmutableArray<SpreadCause> Causes
);

/// <summary>
/// A batch of units as they were first read, against the spread of simulated ones: are the tolerances of the shelf right? Each
/// unit's pitch errors less the design's are put into two figures by least squares, middle and slope; the variance of each over
/// the batch is compared with the foretold one (n − 1 times their ratio is chi-squared with n − 1 degrees of freedom for normal
/// departures: Cochran, Proc. Cambridge Phil. Soc. 30 (1934) 178, from memory).
/// </summary>
/// <param name="Units">Units that count.</param>
/// <param name="Figures">Middle, then slope.</param>
public sealed record BatchSpread(ImmutableArray<UnitName> Units, ImmutableArray<BatchFigure> Figures)
{
    /// <summary>Fewest units that say anything of a variance.</summary>
    public const int Fewest = 3;

    private const double Tail = 0.025;
    private const double MostlyOne = 0.5; // share above which one part is what the figure tells of
    private const int Named = 4;

    private static readonly (string What, Func<double[], double[]> Weights)[] Kinds = [("middle, cents", Mean), ("slope, cents an octave", Slope)];

    /// <summary>The whole way from a voice and its log.</summary>
    /// <param name="place">Any unit of the module.</param>
    public static (BatchSpread? Spread, Unproved? Failure) Find(Voice voice, Stock stock, UnitPlace place, IReadOnlyCollection<LogEntry> entries, int threads)
    {
        (UnitModel? model, SolveFailure? failure) = UnitModel.Find(voice, stock, place, [Prover.BenchKelvin], threads);
        if (model is null)
            return (null, Prover.Because(failure!));
        return Of(model, entries) is { } spread
            ? (spread, null)
            : (null, new($"fewer than {Fewest} units of {place.Unit.Module} were read at two control voltages or more", "measure more of them with --record"));
    }

    /// <summary>Of one module's units; null with fewer than three that were read at two voltages or more.</summary>
    /// <param name="model">The module's design.</param>
    /// <param name="entries">The log's entries.</param>
    public static BatchSpread? Of(UnitModel model, IEnumerable<LogEntry> entries)
    {
        SittingEntry[] first =
        [
            .. entries.OfType<SittingEntry>().Where(sitting => sitting.Unit.Module == model.Place.Unit.Module && sitting.Readings.Select(r => r.Volts).Distinct().Count() > 1)
                .GroupBy(sitting => sitting.Unit).Select(unit => unit.MinBy(sitting => sitting.Time)!).OrderBy(sitting => sitting.Unit.Serial, StringComparer.Ordinal),
        ];
        if (first.Length < Fewest)
            return null;
        UnitReader reader = new(model);
        UnitDeparture[] departures = [.. first.Select(sitting => UnitDeparture.Of(model, reader, sitting))];
        return new([.. first.Select(sitting => sitting.Unit)], [.. Kinds.Select(kind => Figure(model, kind.What, [.. departures.Select(unit => unit.Along(kind.Weights))]))]);
    }

    private static BatchFigure Figure(UnitModel model, string what, (double Value, double Variance, double[] ByPart)[] units)
    {
        int n = units.Length;
        double[] scaled = [.. units.Select(unit => unit.Value / Math.Sqrt(unit.Variance))];
        double middle = scaled.Average(), ratio = scaled.Sum(z => (z - middle) * (z - middle)) / (n - 1);
        double low = ratio * (n - 1) / ChiSquared.InvCDF(n - 1, 1 - Tail), high = ratio * (n - 1) / ChiSquared.InvCDF(n - 1, Tail);
        double foretold = Math.Sqrt(units.Average(unit => unit.Variance)), mean = units.Average(unit => unit.Value);
        double own = Math.Sqrt(units.Sum(unit => (unit.Value - mean) * (unit.Value - mean)) / (n - 1));
        double within = StudentT.InvCDF(0, 1, n - 1, 1 - Tail) * own / Math.Sqrt(n);
        bool isOdd = low > 1 || high < 1;
        double variance = units.Average(unit => unit.Variance);
        double[] shares = [.. Enumerable.Range(0, units[0].ByPart.Length).Select(v => units.Average(unit => unit.ByPart[v]) / variance)];
        SpreadCause Cause(int v) => new(model.Prior.Names[v], shares[v], isOdd && shares[v] >= MostlyOne ? Math.Sqrt(Math.Max(0, 1 + (ratio - 1) / shares[v])) : null);
        return new(what, foretold, own, Math.Sqrt(ratio), Math.Sqrt(low), Math.Sqrt(high), mean, within, shares.Sum(),
            [.. Enumerable.Range(0, shares.Length).OrderByDescending(v => shares[v]).Take(Named).Select(Cause)]);
    }

    private static double[] Mean(double[] octaves) => [.. octaves.Select(_ => 1.0 / octaves.Length)];

    private static double[] Slope(double[] octaves)
    {
        double middle = octaves.Average(), square = octaves.Sum(x => (x - middle) * (x - middle));
        return [.. octaves.Select(x => (x - middle) / square)];
    }
}
