namespace Consort.Engine.Faults;

/// <summary>What units of one kind (sound, or with one fault) show: every figure's mean and deviation by the spread of parts.</summary>
/// <param name="Mean">The mean; NaN where it is not known.</param>
/// <param name="Deviation">Standard deviation.</param>
/// <param name="MovedShare">How far the fault's part itself may lie from what was solved, as a share of what it moves a figure.</param>
/// <param name="Departures">The units that this is from, each less their mean; none where it is taken over from sound ones.</param>
internal sealed record Forecast(double[] Mean, double[] Deviation, double MovedShare, double[][] Departures)
{
    private const double Unrefined = 0.04; // one build: its other parts differ from the next unit's
    private const double Refined = 0.01;
    private const double Kept = 0.05; // of sound units' deviation: eight builds that agree may do so by chance

    /// <summary>Of sound builds.</summary>
    public static Forecast OfSound(double[][] builds)
    {
        double[] mean = [.. Enumerable.Range(0, builds[0].Length).Select(i => builds.Average(figures => figures[i]))];
        double[][] departures = [.. builds.Select(figures => figures.Select((value, i) => value - mean[i]).ToArray())];
        return new(mean, [.. mean.Select((_, i) => Math.Sqrt(departures.Sum(departure => departure[i] * departure[i]) / (builds.Length - 1)))], 0, departures);
    }

    /// <summary>Of a fault that was solved in the design alone: sound units' spread about what it moves.</summary>
    public Forecast Moved(double[] moved, IReadOnlyList<UnitFigure> figures) =>
        this with { Mean = [.. Mean.Select((mean, i) => Heard(figures[i], mean + moved[i]))], MovedShare = Unrefined, Departures = [] };

    /// <summary>Of a fault that was solved in builds of its own. Where it leaves a build's departure as it was, what it moves is known
    /// better than the mean of so few.</summary>
    /// <param name="faulty">Builds with the fault; null where the circuit has no answer.</param>
    /// <param name="sound">The same builds without it.</param>
    /// <param name="figures">What the figures are.</param>
    public Forecast Drawn(double[]?[] faulty, double[][] sound, IReadOnlyList<UnitFigure> figures)
    {
        double[] mean = new double[Mean.Length], deviation = new double[Mean.Length];
        double[][] departures = [.. faulty.Select(_ => new double[Mean.Length])];
        for (int i = 0; i < mean.Length; i++)
        {
            int[] known = [.. Enumerable.Range(0, faulty.Length).Where(b => double.IsFinite(faulty[b]?[i] ?? double.NaN))];
            mean[i] = double.NaN;
            if (known.Length < Math.Max(2, faulty.Length / 2))
                continue;
            (double middle, double variance) = Moments([.. known.Select(b => faulty[b]![i])]);
            (double moved, double movedVariance) = Moments([.. known.Select(b => faulty[b]![i] - sound[b][i])]);
            mean[i] = Heard(figures[i], movedVariance < variance ? Mean[i] + moved : middle);
            deviation[i] = Math.Sqrt(variance * (1 + 2.0 / known.Length) + Math.Min(variance, movedVariance) / known.Length + Math.Pow(Kept * Deviation[i], 2));
            foreach (int b in known)
                departures[b][i] = faulty[b]![i] - middle;
        }
        return new(mean, deviation, Refined, departures);
    }

    /// <summary>How two figures of these units go together, from −1 to 1; 0 where either stands still.</summary>
    public double Together(int i, int j)
    {
        double product = 0, first = 0, second = 0;
        foreach (double[] departure in Departures)
        {
            product += departure[i] * departure[j];
            first += departure[i] * departure[i];
            second += departure[j] * departure[j];
        }
        return first > 0 && second > 0 ? product / Math.Sqrt(first * second) : 0;
    }

    // Below half an octave above it, what stands for silence was moved by the mean's difference only.
    private static double Heard(UnitFigure figure, double value) => figure.Kind == FigureKind.Pitch && value < UnitFigure.Lowest + 0.5 ? UnitFigure.Lowest : value;

    private static (double Mean, double Variance) Moments(double[] values)
    {
        double mean = values.Average();
        return (mean, values.Sum(value => (value - mean) * (value - mean)) / (values.Length - 1));
    }
}
