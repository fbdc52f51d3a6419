using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Response;

/// <summary>Finds how far an oscillator's own pitch may stand from a frequency that leads it and it is still caught, and what
/// its wave is like there.</summary>
/// <param name="master">Leads it.</param>
/// <param name="own">Its own frequency, Hz.</param>
internal sealed class SyncRange(SyncMaster master, double own)
{
    /// <summary>Where it is looked at first: it stands so far below what leads it, cents.</summary>
    public const double First = 40;

    /// <summary>The search ends here, cents either way.</summary>
    public const double Farthest = 1200;

    private const double Step = 200;
    private const int Halvings = 9; // of a step: 0.4 cent
    private const int Harmonics = 20;

    /// <summary>The sheet; neither sheet nor failure when it is not caught.</summary>
    public (SyncSheet? Sheet, SolveFailure? Failure) Read(string source, string way, string output)
    {
        (bool caught, SolveFailure? failure) = Begin();
        if (failure is not null || !caught)
            return (null, failure);
        (double flat, bool flatEnds, SolveFailure? lost) = End(1);
        (double sharp, bool sharpEnds, SolveFailure? gone) = End(-1);
        if ((lost ?? gone) is { } broken)
            return (null, broken);
        ImmutableArray<SyncView>.Builder views = ImmutableArray.CreateBuilder<SyncView>();
        foreach (double share in (ReadOnlySpan<double>)[0.95, 0.5, 0.05])
        {
            (SyncView? view, SolveFailure? unseen) = View(sharp + share * (flat - sharp));
            if (view is null)
                return (null, unseen);
            views.Add(view);
        }
        return (new(source, way, -sharp, sharpEnds, flat, flatEnds, output, views.ToImmutable()), null);
    }

    // At the first of the places where pulses may begin from which it is caught.
    private (bool Caught, SolveFailure? Failure) Begin()
    {
        foreach (double share in master.Beginnings)
        {
            master.Begins = share;
            (bool caught, _, SolveFailure? failure) = IsCaught(First);
            if (caught || failure is not null)
                return (caught, failure);
        }
        return (false, null);
    }

    // Below what leads it by about so many cents; told is by how many it really was.
    private (bool Caught, double Cents, SolveFailure? Failure) IsCaught(double cents)
    {
        (SyncRun? run, SolveFailure? failure) = master.Lead(own * Math.Pow(2, cents / 1200), own);
        return run is null ? (false, double.NaN, failure) : (run.IsCaught, -1200 * Math.Log2(own * run.Period), null);
    }

    // In steps from the first place until it is lost, then by halving; told in the cents that were really there.
    private (double Cents, bool Ends, SolveFailure? Failure) End(int way)
    {
        (double held, double told) = (First, First);
        for (double next = First + way * Step; ; next += way * Step)
        {
            next = Math.Clamp(next, -Farthest, Farthest);
            (bool caught, double cents, SolveFailure? failure) = IsCaught(next);
            if (failure is not null)
                return (double.NaN, false, failure);
            if (!caught)
                return Halve(held, next, told);
            (held, told) = (next, cents);
            if (Math.Abs(next) >= Farthest)
                return (told, false, null);
        }
    }

    private (double Cents, bool Ends, SolveFailure? Failure) Halve(double held, double lost, double told)
    {
        double beyond = double.NaN;
        for (int pass = 0; pass < Halvings; pass++)
        {
            (bool caught, double cents, SolveFailure? failure) = IsCaught(0.5 * (held + lost));
            if (failure is not null)
                return (double.NaN, true, failure);
            if (caught)
                (held, told) = (0.5 * (held + lost), cents);
            else
                (lost, beyond) = (0.5 * (held + lost), cents);
        }
        return (double.IsNaN(beyond) ? told : 0.5 * (told + beyond), true, null);
    }

    private (SyncView? View, SolveFailure? Failure) View(double cents)
    {
        (SyncRun? run, SolveFailure? failure) = master.Lead(own * Math.Pow(2, cents / 1200), own, keeps: true);
        if (run is null)
            return (null, failure);
        HarmonicReading reading = HarmonicReading.OfPeriod(run.Times, run.Volts, Harmonics);
        ImmutableArray<double> shares = [.. run.Times.Select(time => (time - run.Times[0]) / (run.Times[^1] - run.Times[0]))];
        return (new(1200 * Math.Log2(own * run.Period), shares, [.. run.Volts], [.. reading.Lines.Select(line => line.Magnitude)]), null);
    }
}
