namespace Consort.Engine.Circuit.Motion;

/// <summary>A moment that a run is brought to and that is then reported: a net going through a level.</summary>
/// <param name="Net">Unknown of the net.</param>
/// <param name="Level">V.</param>
/// <param name="Rising">Direction.</param>
public sealed record Probe(int Net, double Level, bool Rising);

/// <summary>Follows all watch functions of a run: those of the switching banks and the probes.</summary>
internal sealed class Watcher
{
    // What landing leaves of noise, V: a probe must have been this far below zero before it fires again, and a switch that
    // has been thrown is thrown back when its watch has come up by this much, wherever it turned.
    private const double Arm = 1e-6;

    /// <summary>A watch this close to zero has crossed, V: a step that is aimed at the crossing lands on either side.</summary>
    public const double Close = 1e-9;

    private readonly (ISwitching Bank, int Watch)[] switches;
    private readonly Probe[] probes;
    private readonly bool[] armed;
    private readonly bool[] isBehind; // the last crossing lies behind
    private readonly double[] firedAt; // value at which it last fired
    private readonly double[] level; // that a watch has to reach: zero, unless it turned back before it was well below
    private readonly double[] before;
    private readonly double[] after;
    private readonly double[] slope;

    public Watcher(Circuit circuit, IReadOnlyList<Probe> probes)
    {
        List<(ISwitching, int)> found = [];
        foreach (PartBank bank in circuit.Banks)
            if (bank is ISwitching switching)
                for (int i = 0; i < switching.Watches; i++)
                    found.Add((switching, i));
        switches = [.. found];
        this.probes = [.. probes];
        int count = switches.Length + this.probes.Length;
        (armed, before, after, slope) = (new bool[count], new double[count], new double[count], new double[count]);
        (isBehind, firedAt, level) = (new bool[count], new double[count], new double[count]);
        Array.Fill(isBehind, true);
        Array.Fill(armed, true, 0, switches.Length);
    }

    /// <summary>Unknowns that decide when something happens.</summary>
    public IEnumerable<int> Reads =>
        switches.Select(pair => pair.Bank).Distinct().SelectMany(bank => bank.Reads).Concat(probes.Select(probe => probe.Net));

    public int Count => armed.Length;

    public bool IsProbe(int watch) => watch >= switches.Length;

    public (ISwitching Bank, int Watch) SwitchOf(int watch) => switches[watch];

    public int ProbeOf(int watch) => watch - switches.Length;

    public double Value(int watch, double[] x, double time)
    {
        if (watch < switches.Length)
            return switches[watch].Bank.Watch(switches[watch].Watch, x, time) - level[watch];
        Probe probe = probes[watch - switches.Length];
        return probe.Rising ? x[probe.Net] - probe.Level : probe.Level - x[probe.Net];
    }

    /// <summary>dw/dt of a watch, V/s, from its gradient and the state's rate.</summary>
    public double Rate(int watch, double[] gradient, double[] rate, double[] x, double time)
    {
        const double Short = 1e-12;
        double sum = (Value(watch, x, time + Short) - Value(watch, x, time - Short)) / (2 * Short);
        for (int i = 1; i < rate.Length; i++)
            sum += gradient[i] * rate[i];
        return sum;
    }

    /// <summary>Reads all values at the state at which a run begins.</summary>
    public void Start(double[] x, double time)
    {
        for (int i = 0; i < switches.Length; i++)
            Aim(i, x, time);
        Accept(x, time, 0);
    }

    /// <summary>Reads all values at a state that was accepted; h is the step that led there, 0 at a start.</summary>
    public void Accept(double[] x, double time, double h)
    {
        for (int i = 0; i < Count; i++)
        {
            double value = Value(i, x, time);
            slope[i] = h > 0 ? (value - before[i]) / h : 0;
            before[i] = value;
            if (!IsProbe(i))
                Lower(i);
            else if (value > 0)
                isBehind[i] = true;
            else if (value < -Arm && (isBehind[i] || value < firedAt[i] - Arm))
                armed[i] = true;
        }
    }

    private void Aim(int watch, double[] x, double time)
    {
        (ISwitching bank, int own) = switches[watch];
        double value = bank.Watch(own, x, time);
        level[watch] = Math.Max(0, value) + Arm;
        before[watch] = value - level[watch];
    }

    // The level of a switch follows its watch down to zero. A comparator without hysteresis may turn a microvolt past its
    // limit: it has to see the way back from there too.
    private void Lower(int watch)
    {
        double value = before[watch] + level[watch];
        double lower = value < -Arm ? 0 : Math.Min(level[watch], Math.Max(0, value) + Arm);
        (before[watch], level[watch]) = (value - lower, lower);
    }

    /// <summary>True when a watch has crossed but not fired: another fired at the same moment.</summary>
    public bool IsOverdue()
    {
        for (int i = 0; i < Count; i++)
            if (armed[i] && before[i] > 0)
                return true;
        return false;
    }

    /// <summary>The nearest crossing that the last slopes foretell, s from now; infinity when none.</summary>
    public double Foretold()
    {
        double nearest = double.PositiveInfinity;
        for (int i = 0; i < Count; i++)
            if (armed[i] && before[i] < 0 && slope[i] > 0)
                nearest = Math.Min(nearest, -before[i] / slope[i]);
        return nearest;
    }

    /// <summary>The armed watch that crosses first within a step of length h that ends at x; -1 when none does.</summary>
    public int FirstCrossing(double[] x, double time, double h, out double share)
    {
        int first = -1;
        share = double.PositiveInfinity;
        for (int i = 0; i < Count; i++)
        {
            after[i] = Value(i, x, time);
            // What would cross within the shortest step has crossed.
            double ahead = Math.Max(Close, (after[i] - before[i]) / h * Transient.Resolution);
            if (!armed[i] || (after[i] < -ahead && before[i] <= 0))
                continue;
            double at = before[i] < 0 ? Math.Min(1, before[i] / (before[i] - after[i])) : 0;
            if (at < share)
                (first, share) = (i, at);
        }
        return first;
    }

    /// <summary>True when the event of a switch sets something in motion at once, and not after a delay.</summary>
    public bool Turns(int watch, double time)
    {
        if (IsProbe(watch))
            return false;
        (ISwitching bank, int own) = switches[watch];
        return bank.Moves(bank.PartOf(own), time + Transient.Resolution);
    }

    public double Before(int watch) => before[watch];

    /// <summary>The event happened: a switch is thrown and watches for the way back; a probe is only disarmed.</summary>
    public void Fire(int watch, double[] x, double time)
    {
        if (watch < switches.Length)
        {
            (ISwitching bank, int own) = switches[watch];
            bank.Cross(own, time);
            Aim(watch, x, time);
            return;
        }
        armed[watch] = false;
        // A probe may fire a picosecond before its level: it is not to fire again on the same way up.
        isBehind[watch] = before[watch] > 0;
        firedAt[watch] = before[watch];
    }
}
