using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Response;

/// <summary>Reads the frequency over the whole swing at an input, what sines of rising depth make of it, and its drift.</summary>
/// <param name="driven">The oscillator; no output is looked at.</param>
/// <param name="drive">The jack.</param>
/// <param name="modulator">Frequency of the sines, Hz.</param>
/// <param name="kelvins">Temperatures, the first the one at which it stands.</param>
/// <param name="motion">Counts the mean frequency under a sine of a peak in the circuit in motion, Hz, with its standard error; NaN when it could not be told.</param>
internal sealed class FrequencyReader(
    DrivenOscillator driven,
    Drive drive,
    double modulator,
    ImmutableArray<double> kelvins,
    Func<double, (double Hertz, double Error, SolveFailure? Failure)> motion
)
{
    private const int Steps = 24; // an even count: 0 V is a point
    private const int Halvings = 8;

    // Sines: shares of the swing, and those that are run in motion too. A deep exponential one is left out there: octaves
    // above the carrier it takes as long as all the rest.
    private static readonly ImmutableArray<double> Shares = [0.1, 0.2, 0.5, 0.8, 1];

    private static bool RunsInMotion(double share, bool isLinear) => share == 0.2 || share == 0.8 && isLinear;

    /// <summary>The whole sheet.</summary>
    public (FrequencySheet? Sheet, SolveFailure? Failure) Read()
    {
        List<FrequencyPoint> points = [];
        for (int i = 0; i <= Steps; i++)
        {
            (FrequencyPoint point, SolveFailure? failure) = At(drive.Low + drive.Span * i / Steps);
            if (failure is not null)
                return (null, failure);
            points.Add(point);
        }
        FrequencyLaw law = new([.. points]);
        double carrier = points[Steps / 2].Hertz;
        double step = drive.Span / Steps;
        bool isLinear = law.IsLinear(step);
        double slope = Slope(points, isLinear);
        (LowEnd end, double endVolts, SolveFailure? lost) = End(points, carrier, isLinear ? slope : double.NaN);
        (ImmutableArray<DepthPoint> depths, SolveFailure? stuck) = Depths(law, carrier, isLinear);
        (ImmutableArray<CarrierDrift> drifts, SolveFailure? cold) = Drifts(step, isLinear);
        if ((lost ?? stuck ?? cold) is { } broken)
            return (null, broken);
        double bend = points.Where(point => point.Hertz > 0).Max(point => Math.Abs(Height(point.Hertz, carrier, isLinear) - slope * point.Volts / (isLinear ? carrier : 1)));
        return (new(drive, carrier, isLinear, slope, bend, [.. points], end, endVolts, depths, drifts), null);
    }

    private (FrequencyPoint Point, SolveFailure? Failure) At(double volts)
    {
        (SteadyPeriod? period, SolveFailure? failure) = driven.At(drive, volts);
        return period is null ? (default, failure) : (new(volts, period.Hertz), null);
    }

    // Of a share of the carrier, or in octaves.
    private static double Height(double hertz, double carrier, bool isLinear) => isLinear ? hertz / carrier - 1 : Math.Log2(hertz / carrier);

    // From the two points beside 0 V.
    private static double Slope(List<FrequencyPoint> points, bool isLinear)
    {
        (FrequencyPoint down, FrequencyPoint up) = (points[Steps / 2 - 1], points[Steps / 2 + 1]);
        return (isLinear ? up.Hertz - down.Hertz : Math.Log2(up.Hertz / down.Hertz)) / (up.Volts - down.Volts);
    }

    // Followed from 0 V to the side on which it falls.
    private (LowEnd End, double Volts, SolveFailure? Failure) End(List<FrequencyPoint> points, double carrier, double slope)
    {
        int way = points[Steps / 2 + 1].Hertz > points[Steps / 2 - 1].Hertz ? -1 : 1;
        FrequencyPoint before = points[Steps / 2];
        for (int i = Steps / 2 + way; i >= 0 && i <= Steps; i += way)
        {
            FrequencyPoint point = points[i];
            if (!(point.Hertz > 0))
                return Stop(before, point);
            if (point.Hertz > before.Hertz + 1e-3 * carrier)
                return (LowEnd.Folds, before.Volts, null);
            before = point;
        }
        return (LowEnd.Runs, -carrier / slope, null);
    }

    private (LowEnd, double, SolveFailure?) Stop(FrequencyPoint alive, FrequencyPoint dead)
    {
        for (int pass = 0; pass < Halvings; pass++)
        {
            (FrequencyPoint between, SolveFailure? failure) = At(0.5 * (alive.Volts + dead.Volts));
            if (failure is not null)
                return (LowEnd.Stops, double.NaN, failure);
            (alive, dead) = between.Hertz > 0 ? (between, dead) : (alive, between);
        }
        return (LowEnd.Stops, 0.5 * (alive.Volts + dead.Volts), null);
    }

    private (ImmutableArray<DepthPoint>, SolveFailure?) Depths(FrequencyLaw law, double carrier, bool isLinear)
    {
        ImmutableArray<DepthPoint>.Builder depths = ImmutableArray.CreateBuilder<DepthPoint>();
        foreach (double share in Shares)
        {
            double peak = share * drive.High;
            (double deviation, double mean) = law.Under(peak);
            (double hertz, double error, SolveFailure? failure) = RunsInMotion(share, isLinear) ? motion(peak) : (double.NaN, double.NaN, null);
            if (failure is not null)
                return ([], failure);
            depths.Add(new(peak, deviation, deviation / modulator, 1200 * Math.Log2(mean / carrier), 1200 * Math.Log2(hertz / carrier), 1200 / Math.Log(2) * error / hertz));
        }
        return (depths.ToImmutable(), null);
    }

    private (ImmutableArray<CarrierDrift>, SolveFailure?) Drifts(double step, bool isLinear)
    {
        ImmutableArray<CarrierDrift>.Builder drifts = ImmutableArray.CreateBuilder<CarrierDrift>();
        double first = double.NaN;
        foreach (double kelvin in kelvins)
        {
            driven.BringTo(kelvin);
            List<double> hertz = [];
            foreach (double volts in (ReadOnlySpan<double>)[0, -step, step])
            {
                (FrequencyPoint point, SolveFailure? failure) = At(volts);
                if (failure is not null)
                    return ([], failure);
                hertz.Add(point.Hertz);
            }
            first = drifts.Count == 0 ? hertz[0] : first;
            drifts.Add(new(kelvin, 1200 * Math.Log2(hertz[0] / first), (isLinear ? hertz[2] - hertz[1] : Math.Log2(hertz[2] / hertz[1])) / (2 * step)));
        }
        return (drifts.ToImmutable(), null);
    }
}
