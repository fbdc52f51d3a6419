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

    /// <summary>The ramp that begins or ends at a moment; null when none does.</summary>
    public RampCorner? CornerAt(double time)
    {
        foreach ((ISwitching switching, PartBank bank) in banks)
            for (int part = 0; part < bank.Count; part++)
                if (switching.CornerAt(part, time) is { } corner)
                    return new(bank, part, corner.Cause, corner.IsEnd);
        return null;
    }

    /// <summary>Books an amount on the moment that caused a ramp.</summary>
    public void Owe(PartBank bank, int part, double cause, double amount)
    {
        (PartBank, int, double) key = (bank, part, cause);
        shifts[key] = shifts.GetValueOrDefault(key) + amount;
    }

    /// <summary>Adds what all running ramps at a stage point owe to the moments that started them, and to their delay. Gives
    /// what the stage's own time is owed: the same with the other sign, since a ramp goes by the difference.</summary>
    public double AddShift(double[] x, double time, double[] ofF, ParameterPlace[] parameters, double[] totals)
    {
        double ofTime = 0;
        foreach ((ISwitching switching, PartBank bank) in banks)
            for (int part = 0; part < bank.Count; part++)
            {
                double cause = switching.CauseOf(part, time);
                if (double.IsNaN(cause) || !switching.Moves(part, time))
                    continue;
                slope.AtTime(new(bank, part), x, time, 1e-12);
                // The ramp is a function of t - cause - delay: ∂f/∂cause = -∂f/∂t, and the total takes -ofF·∂f/∂cause.
                double owed = slope.Project(ofF, ofF, 0);
                if (owed == 0)
                    continue;
                Owe(bank, part, cause, owed);
                ofTime -= owed;
                for (int p = 0; p < parameters.Length; p++)
                    if (parameters[p].Word == "delay" && parameters[p].Part == new PartPlace(bank, part))
                        totals[p] += owed;
            }
        return ofTime;
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
        if (parameter.Word == ParameterPlace.OwnTemperature) // no watch has a temperature
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

/// <summary>A moment at which a ramp begins or ends.</summary>
/// <param name="Bank">The bank of the part whose ramp it is.</param>
/// <param name="Part">Its place there.</param>
/// <param name="Cause">Moment of the event behind the ramp, s.</param>
/// <param name="IsEnd">True where it ends.</param>
internal readonly record struct RampCorner(PartBank Bank, int Part, double Cause, bool IsEnd)
{
    /// <summary>How far the moment moves with a parameter of that part, its unit being the second.</summary>
    public double ShareOf(string word) => word == "delay" || (IsEnd && word is "ramp" or "turn time") ? 1 : 0;
}
