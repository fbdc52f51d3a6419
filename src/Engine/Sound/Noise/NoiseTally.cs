using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Parts;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Pitch.Locking;

namespace Consort.Engine.Sound.Noise;

/// <summary>
/// Sums up what white noise of every part does to a period while the period's adjoint sweeps backwards over its run: with the
/// sensitivity Γ(t) of the period to a current and the current's one-sided density S(t) its variance is ½·∫Γ²S dt (Hajimiri
/// and Lee, IEEE J. Solid-State Circuits 33 (1998) 179; Demir, Mehrotra, Roychowdhury, IEEE Trans. CAS-I 47 (2000) 655; from
/// memory). What reaches back over several periods ties them together, which the sums over earlier periods tell.
/// </summary>
internal sealed class NoiseTally
{
    private const int Cells = 512;

    // A decision takes the noise at its inputs as it is averaged over the part's delay (common practice, no source); a part
    // without one is taken as this quick, s.
    private const double QuickestDecision = 10e-9;

    private readonly Engine.Circuit.Circuit circuit;
    private readonly double start; // of the period that is read, s
    private readonly double period;
    private readonly int periods; // before it that are looked at
    private readonly MomentWeight moment;
    private readonly double[] windows; // by watch of the switching parts, s
    private readonly Dictionary<(string, int, int), Entry> entries = [];

    public NoiseTally(Engine.Circuit.Circuit circuit, Tableau tableau, double start, double period, int periods)
    {
        (this.circuit, this.start, this.period, this.periods) = (circuit, start, period, periods);
        moment = new(tableau);
        windows = [.. circuit.Banks.OfType<ISwitching>().SelectMany(bank => Enumerable.Range(0, bank.Watches).Select(watch => Window(bank, watch)))];
    }

    private static double Window(ISwitching switching, int watch)
    {
        PartBank bank = (PartBank)switching;
        double delay = bank.Words.Contains("delay") ? bank.Numbers("delay")[switching.PartOf(watch)] : 0;
        return Math.Max(QuickestDecision, delay);
    }

    /// <summary>What each source does, in the order in which they were met.</summary>
    public IEnumerable<NoiseCause> Causes => entries.Values.Select(entry => entry.Cause(period));

    /// <summary>Takes one step of the sweep; the circuit stands at its start.</summary>
    /// <param name="step">The step.</param>
    /// <param name="weights">What a change of f at each stage takes off the period, s per unit.</param>
    public void Take(TapedStep step, double[][] weights)
    {
        double from = (step.Start - start) / period;
        int before = (int)-Math.Floor(from + 1e-9);
        NoiseList list = new();
        foreach (PartBank bank in circuit.Banks)
            for (int i = 0; i < bank.Count; i++)
                bank.Noise(circuit.Pass, i, list);
        foreach (NoiseSource source in list.Sources)
        {
            double all = 0;
            foreach (double[] weight in weights)
                all += weight[source.To] - weight[source.From];
            double last = weights[^1][source.To] - weights[^1][source.From];
            double sharp = moment.Of(step, all, last); // as in a phase response
            bool decides = step.Watch >= 0 && step.Watch < windows.Length; // a probe only looks
            Of(source).Add(source, all - sharp, from, step.Length, period, before <= periods ? before : -1, decides ? sharp : 0, decides ? windows[step.Watch] : 1);
        }
    }

    private Entry Of(NoiseSource source)
    {
        (string, int, int) key = (source.Name, source.From, source.To);
        if (!entries.TryGetValue(key, out Entry? entry))
            entries[key] = entry = new(source.Name, periods);
        return entry;
    }

    /// <summary>One source.</summary>
    private sealed class Entry(string name, int periods)
    {
        private readonly PhaseGrid?[] grids = new PhaseGrid?[periods + 1]; // by how many periods before, times the root of half the density
        private double variance;
        private double slope; // s per unit
        private double slow; // weighted by the root of the density
        private double flicker; // white density times corner

        public void Add(NoiseSource source, double smooth, double from, double length, double period, int before, double sharp, double window)
        {
            double half = 0.5 * source.White;
            double root = Math.Sqrt(half);
            variance += half * (smooth * smooth / length + sharp * sharp / window);
            slope += smooth + sharp;
            slow += (smooth + sharp) * root;
            flicker = Math.Max(flicker, source.White * source.Corner);
            if (before >= 0)
                (grids[before] ??= new(Cells)).Spread(from, length / period, (smooth + sharp) * root);
        }

        // What one period has in common with another: products of the same cell of different periods.
        public NoiseCause Cause(double period)
        {
            double common = 0;
            for (int cell = 0; cell < Cells; cell++)
            {
                double sum = 0, squares = 0;
                foreach (PhaseGrid? grid in grids)
                    if (grid is not null)
                        (sum, squares) = (sum + grid.Cells[cell], squares + grid.Cells[cell] * grid.Cells[cell]);
                common += sum * sum - squares;
            }
            double walk = variance + common * Cells / period;
            return new(name, variance, Math.Max(0, walk), slope * slope * flicker / (period * period), Math.Sqrt(2) * slow / period);
        }
    }
}
