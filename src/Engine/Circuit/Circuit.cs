using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Parts;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit;

/// <summary>Where a part lives: its bank and its place there.</summary>
public readonly record struct PartPlace(PartBank Bank, int Index);

/// <summary>
/// A compiled circuit: modified nodal analysis (Ho, Ruehli, Brennan, IEEE Trans. CAS-22 (1975) 504) in residual and
/// charge form, f(x, t) + dq(x)/dt = 0. Not for two threads at once: compile one for each.
/// </summary>
public sealed class Circuit
{
    private readonly PartBank[] banks;
    private readonly Dictionary<string, PartPlace> parts = [];
    private readonly Dictionary<string, int> nets;
    private readonly int[] diagonal;
    private readonly ConstantShare rest;
    private readonly ConstantShare motion;
    private readonly double[][] coldSwitches;
    private Footprints? footprints;

    private Circuit(CircuitDesign design, Func<Assembly, PartBank>? surroundings)
    {
        Design = design;
        Assembly assembly = new();
        banks = PartBanks.Build(design, assembly);
        if (surroundings is not null)
            banks = [.. banks, surroundings(assembly)];
        Unknowns = [.. assembly.Unknowns];
        diagonal = [.. Enumerable.Range(0, Unknowns.Length).Select(i => assembly.Slot(i, i))]; // hard starts ask for them
        Pattern = new(Unknowns.Length - 1, [.. assembly.Rows], [.. assembly.Columns]);
        nets = new(assembly.Nets);
        foreach (PartBank bank in banks)
            for (int i = 0; i < bank.Count; i++)
                parts[bank.Parts[i].Name] = new(bank, i);
        Pass = NewPass();
        rest = new(Pattern);
        motion = new(Pattern);
        SetTemperature(Constants.ReferenceTemperature);
        coldSwitches = [.. banks.OfType<ISwitching>().Select(bank => bank.Save())];
    }

    /// <summary>Compiles a circuit at 25 °C.</summary>
    public static Circuit Compile(CircuitDesign design) => new(design, null);

    /// <summary>Compiles a circuit with one more bank, which stands for what the circuit is joined to.</summary>
    internal static Circuit Compile(CircuitDesign design, Func<Assembly, PartBank> surroundings) =>
        new(design, surroundings);

    /// <summary>What it was compiled from.</summary>
    public CircuitDesign Design { get; }

    /// <summary>All unknowns; the first is ground.</summary>
    public Unknown[] Unknowns { get; }

    /// <summary>Number of unknowns and ground.</summary>
    public int Length => Unknowns.Length;

    /// <summary>Where the matrices may be non-zero.</summary>
    public SparsePattern Pattern { get; }

    /// <summary>The banks, for those who follow events or write parameters.</summary>
    public IReadOnlyList<PartBank> Banks => banks;

    /// <summary>The last evaluation.</summary>
    public Pass Pass { get; }

    /// <summary>Temperature, K.</summary>
    public double Temperature => Pass.Temperature;

    /// <summary>Net name to unknown.</summary>
    public IReadOnlyDictionary<string, int> Nets => nets;

    /// <summary>Elimination orders found so far, one for rest and one for motion.</summary>
    internal LuProgram? RestProgram { get; set; }

    internal LuProgram? MotionProgram { get; set; }

    /// <summary>What decides moments by its parts alone, found by the first run.</summary>
    internal IReadOnlyDictionary<int, double>? DecisiveParts { get; set; }

    /// <summary>What its parts touch.</summary>
    internal Footprints Footprints => footprints ??= new(this);

    /// <summary>The unknown of a net.</summary>
    /// <exception cref="KeyNotFoundException">No part joins that net.</exception>
    public int Net(string name) =>
        nets.TryGetValue(name, out int index) ? index : throw new KeyNotFoundException($"no net '{name}'");

    /// <summary>The part of that name.</summary>
    /// <exception cref="KeyNotFoundException">There is none.</exception>
    public PartPlace Find(string part) =>
        parts.TryGetValue(part, out PartPlace place) ? place : throw new KeyNotFoundException($"no part '{part}'");

    /// <summary>True when the circuit has that part.</summary>
    public bool Has(string part) => parts.ContainsKey(part);

    /// <summary>One parameter of one part, SI units.</summary>
    public double this[string part, string word]
    {
        get
        {
            PartPlace place = Find(part);
            return place.Bank.Numbers(word)[place.Index];
        }
        set
        {
            PartPlace place = Find(part);
            place.Bank.Numbers(word)[place.Index] = value;
            Refresh(place);
        }
    }

    /// <summary>Brings the whole circuit to a temperature, K.</summary>
    public void SetTemperature(double kelvin)
    {
        Pass.Temperature = kelvin;
        foreach (PartBank bank in banks)
            bank.Prepare(kelvin, 0, bank.Count);
        MarkConstantsStale();
    }

    /// <summary>Takes over a parameter that was written straight into its bank.</summary>
    public void Refresh(PartPlace place)
    {
        place.Bank.Prepare(Temperature, place.Index, place.Index + 1);
        MarkConstantsStale();
    }

    internal void MarkConstantsStale() => rest.IsStale = motion.IsStale = true;

    /// <summary>Forgets the last pass, before an unrelated solve.</summary>
    public void Forget()
    {
        foreach (PartBank bank in banks)
            bank.Forget();
    }

    /// <summary>Puts comparators and switches back as they were when the circuit was compiled, so that a cold start finds
    /// the same state whatever ran before.</summary>
    public void ForgetSwitches()
    {
        int i = 0;
        foreach (PartBank bank in banks)
            if (bank is ISwitching switching)
                switching.Restore(coldSwitches[i++]);
    }

    /// <summary>Evaluates f, q, G and C at Pass.X.</summary>
    public void Evaluate(double time, Regime regime)
    {
        Pass pass = Pass;
        pass.Time = time;
        pass.Regime = regime;
        ConstantShare constants = regime == Regime.Rest ? rest : motion;
        if (constants.IsStale)
            constants.Restamp(banks, pass, regime);
        constants.Begin(pass);
        pass.Limited = false;
        foreach (PartBank bank in banks)
            bank.Stamp(pass, 0, bank.Count);
    }

    /// <summary>Evaluates f and q alone at Pass.X in motion: G and C hold nothing of use afterwards.</summary>
    internal void EvaluateFlows(double time)
    {
        Pass.Time = time;
        Pass.Regime = Regime.Motion;
        Pass.WantsSlopes = false;
        motion.BeginFlows(Pass);
        foreach (PartBank bank in banks)
            bank.Stamp(Pass, 0, bank.Count);
        Pass.WantsSlopes = true;
    }

    /// <summary>The share of f and q at Pass.X that some banks add in motion, without their constant part; G and C hold nothing
    /// of use afterwards.</summary>
    internal void EvaluateOnly(List<PartBank> some, double time)
    {
        Pass.Time = time;
        Pass.Regime = Regime.Motion;
        Array.Clear(Pass.F);
        Array.Clear(Pass.Q);
        foreach (PartBank bank in some)
            bank.Stamp(Pass, 0, bank.Count);
    }

    /// <summary>The current that flows from a terminal's net into the part, A; other terminals of the part on the same
    /// net are counted in.</summary>
    public double Current(string part, string terminal, double[] x, double time, Regime regime)
    {
        PartPlace place = Find(part);
        string net = place.Bank.Parts[place.Index].NetAt(terminal) ?? throw new KeyNotFoundException($"{part} has no '{terminal}'");
        return StampAlone(place, x, time, regime).F[nets[net]];
    }

    /// <summary>The current that flows into each terminal of a part at the state x, A. Terminals that share a net are
    /// given together under the first of them.</summary>
    /// <param name="slope">dx/dt, for what its charges take in motion; null leaves that out.</param>
    public IReadOnlyList<(string Terminal, double Amperes)> Currents(
        string part,
        double[] x,
        double time,
        Regime regime,
        double[]? slope = null
    )
    {
        PartPlace place = Find(part);
        Pass alone = StampAlone(place, x, time, regime, slope);
        List<(string, double)> currents = [];
        HashSet<string> seen = [];
        foreach (Joint joint in place.Bank.Parts[place.Index].Terminals)
            if (joint.Net != CircuitDesign.Ground && seen.Add(joint.Net))
                currents.Add((joint.Terminal, alone.F[nets[joint.Net]]));
        // What enters ground is what the other terminals bring (Kirchhoff).
        foreach (Joint joint in place.Bank.Parts[place.Index].Terminals)
            if (joint.Net == CircuitDesign.Ground && seen.Add(joint.Net))
                currents.Add((joint.Terminal, -currents.Sum(current => current.Item2)));
        return currents;
    }

    private Pass StampAlone(PartPlace place, double[] x, double time, Regime regime, double[]? slope = null)
    {
        Pass alone = NewPass();
        alone.Temperature = Temperature;
        x.CopyTo(alone.X, 0);
        alone.Time = time;
        alone.Regime = regime;
        place.Bank.StampConstant(alone, place.Index, place.Index + 1);
        SparseShare.Multiply(Pattern, alone.G, x, alone.F);
        Array.Clear(alone.G);
        place.Bank.Stamp(alone, place.Index, place.Index + 1);
        if (slope is not null)
            SparseShare.Multiply(Pattern, alone.C, slope, alone.F);
        return alone;
    }

    /// <summary>The slot of an unknown's own diagonal.</summary>
    internal int DiagonalSlot(int unknown) => diagonal[unknown];

    internal Pass NewPass() =>
        new()
        {
            X = new double[Length],
            F = new double[Length],
            Q = new double[Length],
            G = new double[Pattern.Slots],
            C = new double[Pattern.Slots],
        };
}
