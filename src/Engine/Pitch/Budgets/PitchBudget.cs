using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Budgets;

/// <summary>What a part's known tempco does to pitch.</summary>
/// <param name="Part">The part.</param>
/// <param name="Tempco">Relative change per kelvin.</param>
/// <param name="CentsPerKelvin">At each of the budget's notes, without any trimming.</param>
internal sealed record TempcoLine(Part Part, double Tempco, ImmutableArray<double> CentsPerKelvin);

/// <summary>A budget and what temperature does by part.</summary>
internal sealed record BudgetResult(Budget Budget, ImmutableArray<TempcoLine> Drifts);

/// <summary>
/// Splits an oscillator's tracking error by cause and part: each departure's first-order effect on pitch over the
/// keyboard, less what trimming takes away again.
/// </summary>
internal sealed class PitchBudget
{
    private const double Negligible = 2e-3; // cents: lines below it are told in one sum

    private readonly PlayedVoice voice;
    private readonly SoloOscillator solo;
    private readonly TrimStep[] trims;
    private readonly double[] volts;

    public PitchBudget(PlayedVoice voice, SoloOscillator solo, IReadOnlyList<double> octaves)
    {
        (this.voice, this.solo) = (voice, solo);
        trims = [.. solo.Oscillator.Member.Module.Trims.Where(step => step.Purpose != TrimPurpose.Other)];
        volts = [.. octaves.Concat(trims.SelectMany(step => step.Voltages)).Distinct().Order()];
    }

    /// <summary>Largest share of an adjoint that was cut off.</summary>
    public double Truncation { get; private set; }

    /// <summary>Works out the budget, with the trimmed errors that were measured at its notes.</summary>
    public (BudgetResult? Result, SolveFailure? Failure) Run(Func<double, double> measuredCents)
    {
        List<Departure> departures = Departures.Of(voice.Circuit);
        List<ParameterPlace> places = [.. departures.Select(departure => departure.Target)];
        int firstTrim = places.Count;
        places.AddRange(trims.Select(step => new ParameterPlace(voice.Circuit.Find(solo.Oscillator.Part(step.Trimmer)), "position")));
        Part[] drifting = [.. DriftingParts()];
        int firstDrift = places.Count;
        places.AddRange(drifting.Select(part => new ParameterPlace(voice.Circuit.Find(part.Name), "value")));
        PitchSlopes slopes = new(voice, solo);
        double[][] atNotes = new double[volts.Length][];
        for (int i = 0; i < volts.Length; i++)
        {
            (double[]? at, _, SolveFailure? failure) = slopes.At(volts[i], places);
            if (at is null)
                return (null, failure);
            atNotes[i] = at;
        }
        Truncation = slopes.Truncation;
        double[][] trimSlopes = [.. trims.Select((_, j) => Column(atNotes, firstTrim + j, 1))];
        List<BudgetLine> lines = [];
        List<BudgetLine> spread = [];
        double[] rest = new double[volts.Length];
        for (int d = 0; d < departures.Count; d++)
        {
            double[] cents = Retrim(Column(atNotes, d, departures[d].Move), trimSlopes);
            double size = cents.Max(Math.Abs);
            if (!departures[d].IsLimit)
                for (int i = 0; i < rest.Length; i++)
                    rest[i] += cents[i];
            if (size < Negligible || double.IsNaN(size))
                continue;
            (departures[d].IsLimit ? spread : lines).Add(Line(departures[d], cents));
        }
        double[] unexplained = [.. volts.Select((v, i) => measuredCents(v) - rest[i])];
        if (DeadTime(unexplained, trimSlopes) is { } dead)
        {
            lines.Add(dead);
            for (int i = 0; i < unexplained.Length; i++)
                unexplained[i] -= dead.Cents[i];
        }
        Budget budget = new(solo.Oscillator.Name, [.. volts], Shares(lines), [.. unexplained]) { Spread = Shares(spread) };
        return (new(budget, [.. drifting.Select((part, k) => Drift(part, Column(atNotes, firstDrift + k, 1)))]), null);
    }

    // A time in which the core does not charge, the same in every period, that no part's ideal stands for: a pulse's length
    // set by a resistor and a capacitor. It is known by its shape over the keyboard, and named where it is most of the rest.
    private BudgetLine? DeadTime(double[] left, double[][] trimSlopes)
    {
        const double Most = 0.25; // of the squares that may stay unexplained
        double[] untrimmed = [.. volts.Select(v => -Cents.PerNeper * solo.Oscillator.IdealHertz(v))]; // of a second
        double[] perSecond = Retrim(untrimmed, trimSlopes);
        // Where a high end trim takes such a time away its shape is lost, and nothing can be said of it.
        if (perSecond.Max(Math.Abs) < 0.1 * untrimmed.Max(Math.Abs))
            return null;
        double square = perSecond.Sum(c => c * c);
        double seconds = square > 0 ? perSecond.Zip(left, (c, l) => c * l).Sum() / square : 0;
        double[] cents = [.. perSecond.Select(c => seconds * c)];
        double over = cents.Zip(left, (c, l) => (l - c) * (l - c)).Sum();
        if (!(over < Most * left.Sum(l => l * l)) || cents.Max(Math.Abs) < 10 * Negligible)
            return null;
        return new(Cause.Reset, solo.Oscillator.TimingCapacitor, "dead time of its core, by its shape", seconds, "s", [.. cents], cents.Max(Math.Abs));
    }

    private IEnumerable<Part> DriftingParts() =>
        voice.Circuit.Design.Parts.Where(part =>
            part.Numbers.GetValueOrDefault("tempco") != 0 && part.Numbers.ContainsKey("value") && voice.Circuit.Has(part.Name)
        );

    private static TempcoLine Drift(Part part, double[] slopes)
    {
        double tempco = part.Number("tempco");
        return new(part, tempco, [.. slopes.Select(slope => slope * part.Number("value") * tempco)]);
    }

    private static double[] Column(double[][] atNotes, int index, double factor) => [.. atNotes.Select(at => factor * at[index])];

    // Trimming sets tracking, centre and high end right again: what is left is what the trimmers cannot reach.
    private double[] Retrim(double[] cents, double[][] trimSlopes)
    {
        if (trims.Length == 0)
            return cents;
        double[,] equations = new double[trims.Length, trims.Length];
        double[] errors = new double[trims.Length];
        for (int i = 0; i < trims.Length; i++)
        {
            errors[i] = ErrorOf(trims[i], cents);
            for (int j = 0; j < trims.Length; j++)
                equations[i, j] = ErrorOf(trims[i], trimSlopes[j]);
        }
        double[] moves = SmallSystem.Solve(equations, errors);
        return [.. cents.Select((c, i) => c - trimSlopes.Select((slope, j) => slope[i] * moves[j]).Sum())];
    }

    private double ErrorOf(TrimStep step, double[] cents)
    {
        double high = cents[Array.IndexOf(volts, step.High)];
        return step.Purpose == TrimPurpose.Tracking ? high - cents[Array.IndexOf(volts, step.Low)] : high;
    }

    private static BudgetLine Line(Departure departure, double[] cents) =>
        new(
            departure.Cause,
            departure.Part.Name,
            departure.Word,
            departure.Value,
            UnitOf(departure),
            [.. cents],
            cents.Max(Math.Abs)
        );

    private static string UnitOf(Departure departure)
    {
        foreach (ParameterSpec spec in departure.Part.Kind.Parameters)
            if (spec.Word == departure.Word)
                return SiUnits.Of(spec.Dimension);
        return departure.Part.Kind.ValueDimension is { } dimension ? SiUnits.Of(dimension) : "";
    }

    private static ImmutableArray<BudgetLine> Shares(List<BudgetLine> lines)
    {
        double sum = lines.Sum(line => line.Share);
        return
        [
            .. lines
                .OrderByDescending(line => line.Share)
                .ThenBy(line => line.Part, StringComparer.Ordinal)
                .Select(line => line with { Share = sum > 0 ? line.Share / sum : 0 }),
        ];
    }
}
