using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Pitch;

/// <summary>Counts one oscillator's periods until they repeat.</summary>
internal sealed class PeriodCount
{
    // Two periods that differ by less than this share are the same: 2e-7 is 0.0003 cent.
    private const double Same = 2e-7;
    private const int Least = 3;

    // Coupled oscillators beat and never quite repeat: then the mean of this many periods is read.
    private const int Most = 12;
    private const int Averaged = 8;

    private readonly List<double> crossings = [];

    /// <summary>True when the period is known.</summary>
    public bool IsDone { get; private set; }

    /// <summary>The period, s; NaN until it is known.</summary>
    public double Period { get; private set; } = double.NaN;

    /// <summary>Largest share by which the periods that were read differ.</summary>
    public double Unsteadiness { get; private set; }

    public IReadOnlyList<double> Crossings => crossings;

    public void Add(double time)
    {
        crossings.Add(time);
        int count = crossings.Count;
        if (IsDone || count < Least)
            return;
        double last = crossings[^1] - crossings[^2];
        double before = crossings[^2] - crossings[^3];
        if (Math.Abs(last - before) < Same * last)
            (IsDone, Period, Unsteadiness) = (true, last, Math.Abs(last / before - 1));
        else if (count > Most)
            Average();
    }

    /// <summary>Follows a run from a state until every probe's period is known, or to an end.</summary>
    public static (PeriodCount[] Counts, SolveFailure? Failure) Follow(Transient run, double[] x, int probes, double end)
    {
        PeriodCount[] counts = [.. Enumerable.Range(0, probes).Select(_ => new PeriodCount())];
        run.Start(x);
        int seen = 0;
        while (run.Time < end && !Array.TrueForAll(counts, count => count.IsDone))
        {
            if (run.Step(end) is { } failure)
                return (counts, failure);
            for (; seen < run.Crossings.Count; seen++)
                counts[run.Crossings[seen].Probe].Add(run.Crossings[seen].Time);
        }
        return (counts, null);
    }

    private void Average()
    {
        IsDone = true;
        Period = (crossings[^1] - crossings[^(Averaged + 1)]) / Averaged;
        for (int i = 0; i < Averaged; i++)
            Unsteadiness = Math.Max(Unsteadiness, Math.Abs((crossings[^(i + 1)] - crossings[^(i + 2)]) / Period - 1));
    }
}
