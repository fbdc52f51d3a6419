using Consort.Engine.Circuit.Parts;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>One oscillator's pitch path through the whole circuit: which parts differ or bend, and what is left when all else has
/// been eliminated, at every temperature.</summary>
internal sealed class WholePath
{
    // A resistor that moves the pitch by less than this is taken at its slope: its own bend is a per cent of a per cent of it.
    private const double Bends = 0.01; // cents

    private readonly PartPlace[] trimmers;
    private readonly int size;

    /// <summary>Finds it; the circuit comes back at the first temperature.</summary>
    /// <param name="circuit">The voice's.</param>
    /// <param name="answers">How it answers at rest.</param>
    /// <param name="draws">What differs between builds.</param>
    /// <param name="trimmers">The voice's.</param>
    /// <param name="bendable">The voice's parts that may be live.</param>
    /// <param name="oscillator">Whose path.</param>
    /// <param name="inBuilds">What parameters do to its timing current in a few builds, cents.</param>
    public WholePath(Circuit.Circuit circuit, RestAnswers answers, DrawPlan draws, PartPlace[] trimmers, PartAlone[] bendable, Oscillator oscillator, double[] inBuilds)
    {
        (Circuit, Answers, Points, Draws, this.trimmers, Oscillator) = (circuit, answers, answers.Points, draws, trimmers, oscillator);
        size = circuit.Length - 1;
        double[] widths = [.. draws.Parameters.Select(parameter => parameter.HalfWidth)];
        Reach = PathReach.Find(answers, widths, TimingCapacitor.Branch(circuit, oscillator.TimingCapacitor), inBuilds);
        foreach (int p in Reach.Parameters)
            ParameterPlace[p] = ParameterPlace.Count;
        Conductances = [.. FindConductances()];
        Live = [.. LiveParts.Find(circuit, answers, Reach, draws, bendable).Select(Lawful)];
        ChargedRow = Enumerable
            .Range(1, circuit.Pattern.Slots - 1)
            .Where(slot => circuit.Pattern.Columns[slot] == Reach.Branch)
            .Select(slot => circuit.Pattern.Rows[slot])
            .MaxBy(row => Math.Abs(Reach.Adjoints[0][row]));
        Elimination = EliminateWhole();
        Moves = MostMoves();
        Eliminated = [.. Points.Kelvins.Select((_, k) => EliminatedAt(k))];
        circuit.SetTemperature(Points.Kelvins[0]);
    }

    /// <summary>Whose path.</summary>
    public Oscillator Oscillator { get; }

    /// <summary>The whole circuit.</summary>
    public Circuit.Circuit Circuit { get; }

    /// <summary>How it answers at rest.</summary>
    public RestAnswers Answers { get; }

    /// <summary>Where it rests.</summary>
    public RestPoints Points { get; }

    /// <summary>What differs between builds.</summary>
    public DrawPlan Draws { get; }

    /// <summary>What reaches the timing current.</summary>
    public PathReach Reach { get; }

    /// <summary>Drawn parameter of the voice to its place in the oscillator's plan.</summary>
    public Dictionary<int, int> ParameterPlace { get; } = [];

    /// <summary>Conductances that differ or are trimmed.</summary>
    public Conductance[] Conductances { get; }

    /// <summary>Parts that bend.</summary>
    public PartAlone[] Live { get; }

    /// <summary>The node that the timing current charges.</summary>
    public int ChargedRow { get; }

    /// <summary>The elimination of all else.</summary>
    public PartialElimination Elimination { get; }

    /// <summary>Its factors and what is left, by temperature.</summary>
    public One[][] Eliminated { get; }

    /// <summary>How far every unknown moves at most, by looked-at note.</summary>
    public double[][] Moves { get; }

    // A transistor's series resistances stay in the constant part: its law acts between inner nodes.
    private PartAlone Lawful(PartAlone part) =>
        part.Place.Bank is BipolarBank ? new(Circuit, part.Place, withConstants: false) : part;

    private IEnumerable<Conductance> FindConductances()
    {
        Dictionary<Part, (int Value, int Tempco, int Trimmer)> varied = [];
        foreach (int p in Reach.Parameters)
        {
            DrawnParameter drawn = Draws.Parameters[p];
            if (drawn.Part.Kind.Word is not ("resistor" or "potentiometer" or "trimmer"))
                continue;
            (int value, int tempco, int trimmer) = varied.GetValueOrDefault(drawn.Part, (-1, -1, -1));
            varied[drawn.Part] = drawn.Word == "value" ? (ParameterPlace[p], tempco, trimmer) : (value, ParameterPlace[p], trimmer);
        }
        foreach (int t in Reach.Trimmers)
        {
            Part part = trimmers[t].Bank.Parts[trimmers[t].Index];
            (int value, int tempco, _) = varied.GetValueOrDefault(part, (-1, -1, -1));
            varied[part] = (value, tempco, t);
        }
        return varied
            .Where(pair => pair.Value.Trimmer >= 0 || Weight(pair.Value.Value) >= Bends || Weight(pair.Value.Tempco) >= Bends)
            .SelectMany(pair => Conductance.Of(Circuit, pair.Key, pair.Value.Value, pair.Value.Tempco, pair.Value.Trimmer));
    }

    private double Weight(int place) => place < 0 ? 0 : Reach.Weights[Reach.Parameters[place]];

    private PartialElimination EliminateWhole()
    {
        (bool[] rows, bool[] columns) = (new bool[size], new bool[size]);
        void Bar(int node)
        {
            if (node > 0)
                rows[node - 1] = columns[node - 1] = true;
        }
        foreach (Conductance conductance in Conductances)
        {
            Bar(conductance.A);
            Bar(conductance.B);
        }
        foreach (PartAlone part in Live)
        {
            foreach (int row in LiveRows(part))
                rows[row - 1] = true;
            foreach (int column in LiveColumns(part))
                columns[column - 1] = true;
        }
        columns[Reach.Branch - 1] = rows[ChargedRow - 1] = true;
        double[] values = WithoutLive(0);
        IEnumerable<(int, int, double)> entries = Enumerable.Range(1, Circuit.Pattern.Slots - 1).Select(slot => (Circuit.Pattern.Rows[slot] - 1, Circuit.Pattern.Columns[slot] - 1, values[slot]));
        return new(size, [.. entries], Reach.Adjoints[0][1..], rows, columns);
    }

    /// <summary>Rows that a live part writes.</summary>
    public static int[] LiveRows(PartAlone part) =>
        part.Place.Bank is BipolarBank bank ? Inner(bank, part.Place.Index) : part.Rows;

    /// <summary>Unknowns that a live part reads.</summary>
    public static int[] LiveColumns(PartAlone part) =>
        part.Place.Bank is BipolarBank bank ? Inner(bank, part.Place.Index) : part.Columns;

    private static int[] Inner(BipolarBank bank, int part)
    {
        (int collector, int baseNode, int emitter) = bank.Inner(part);
        return [.. ((int[])[collector, baseNode, emitter]).Where(node => node > 0).Distinct()];
    }

    private double[] WithoutLive(int k)
    {
        double[] values = (double[])Points.Slopes[k][Points.Middle].Clone();
        double[] x = Points.X[k][Points.Middle];
        Circuit.SetTemperature(Points.Kelvins[k]);
        foreach (PartAlone part in Live)
        {
            part.Evaluate(x);
            foreach (int slot in part.Slots)
                values[slot] -= part.G[slot];
        }
        return values;
    }

    private One[] EliminatedAt(int k)
    {
        One[] work = new One[Elimination.Places];
        double[] values = WithoutLive(k);
        for (int i = 0; i < Elimination.Load.Length; i++)
            work[Elimination.Load[i]] += new One(values[i + 1]);
        Elimination.Eliminate(work);
        return work;
    }

    private double[][] MostMoves() =>
        [.. Reach.Directions.Select(atNote => Enumerable.Range(0, size + 1).Select(c => 3 * Math.Sqrt(atNote.Sum(d => d[c] * d[c]))).ToArray())];

    /// <summary>What is left, by row, of ∂f/∂p at a temperature.</summary>
    public One[] Forwarded(RowSlopes slopes, int k)
    {
        One[] right = new One[size];
        for (int i = 0; i < slopes.Rows.Length; i++)
            right[slopes.Rows[i] - 1] = new(slopes.Values[i]);
        Elimination.Forward(Eliminated[k], right);
        return right;
    }

    /// <summary>A live part's own slope by slot in the design, at the first temperature and the middle note.</summary>
    public double SlopeOf(PartAlone part, int slot)
    {
        part.Evaluate(Points.X[0][Points.Middle]);
        return part.G[slot];
    }
}
