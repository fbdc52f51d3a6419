using Consort.Engine.Circuit.Motion;

namespace Consort.Engine.Circuit.Signal;

/// <summary>What the moments of events owe to the state and to parameters, and what the ramps that they started owe to
/// them.</summary>
internal sealed class SwitchMoves
{
    private readonly Circuit circuit;
    private readonly Watcher watcher;
    private readonly ParameterSlope slope;
    private readonly List<(ISwitching Bank, PartBank Parts)> banks = [];
    private readonly Dictionary<(PartBank Bank, int Part, double Cause), double> shifts = [];

    public SwitchMoves(Circuit circuit, Watcher watcher)
    {
        (this.circuit, this.watcher) = (circuit, watcher);
        slope = new(circuit);
        foreach (PartBank bank in circuit.Banks)
            if (bank is ISwitching switching)
                banks.Add((switching, bank));
    }

    public void Clear() => shifts.Clear();

    /// <summary>The adjoint of the moment of a step's event, gathered from all that its ramp did later; 0 for none.</summary>
    public double TakeCause(TapedStep step)
    {
        if (watcher.IsProbe(step.Watch))
            return 0;
        (ISwitching bank, int watch) = watcher.SwitchOf(step.Watch);
        return shifts.Remove(((PartBank)bank, bank.PartOf(watch), step.End), out double shift) ? shift : 0;
    }

    /// <summary>Adds what all running ramps at a stage point owe to the moments that started them, and to their delay.</summary>
    public void AddShift(double[] x, double time, double[] ofF, ParameterPlace[] parameters, double[] totals)
    {
        foreach ((ISwitching switching, PartBank bank) in banks)
            for (int part = 0; part < bank.Count; part++)
            {
                double cause = switching.CauseOf(part, time);
                if (double.IsNaN(cause))
                    continue;
                slope.AtTime(new(bank, part), x, time, 1e-12);
                // The ramp is a function of t - cause - delay: ∂f/∂cause = -∂f/∂t, and the total takes -ofF·∂f/∂cause.
                double owed = slope.Project(ofF, ofF, 0);
                if (owed == 0)
                    continue;
                (PartBank, int, double) key = (bank, part, cause);
                shifts[key] = shifts.GetValueOrDefault(key) + owed;
                for (int p = 0; p < parameters.Length; p++)
                    if (parameters[p].Word == "delay" && parameters[p].Part == new PartPlace(bank, part))
                        totals[p] += owed;
            }
    }

    /// <summary>∂w/∂x.</summary>
    public double[] Gradient(int watch, double[] x, double time)
    {
        const double Move = 1e-3;
        double[] gradient = new double[circuit.Length];
        for (int i = 1; i < gradient.Length; i++)
        {
            double value = x[i];
            x[i] = value + Move;
            double high = watcher.Value(watch, x, time);
            x[i] = value - Move;
            double low = watcher.Value(watch, x, time);
            x[i] = value;
            gradient[i] = (high - low) / (2 * Move);
        }
        return gradient;
    }

    /// <summary>∂w/∂p: only a switching part's own parameters move its watch.</summary>
    public double ParameterGradient(int watch, ParameterPlace parameter, double[] x, double time)
    {
        if (watcher.IsProbe(watch))
            return 0;
        (ISwitching bank, int own) = watcher.SwitchOf(watch);
        if (!ReferenceEquals(bank, parameter.Part.Bank) || bank.PartOf(own) != parameter.Part.Index)
            return 0;
        double[] numbers = parameter.Part.Bank.Numbers(parameter.Word);
        int index = parameter.Part.Index;
        double value = numbers[index];
        double move = Math.Max(1e-6, 1e-5 * Math.Abs(value));
        if (!double.IsFinite(value))
            return 0;
        double high = ValueWith(value + move);
        double low = ValueWith(value - move);
        ValueWith(value);
        return (high - low) / (2 * move);

        double ValueWith(double moved)
        {
            numbers[index] = moved;
            parameter.Part.Bank.Prepare(circuit.Temperature, index, index + 1);
            return watcher.Value(watch, x, time);
        }
    }
}
