using Consort.Engine.Circuit.Parts;

namespace Consort.Engine.Circuit.Motion;

/// <summary>
/// Steps without Newton, but with it while a comparator or a switch is on its way over: there a conductance grows by
/// decades within a step, which a method that takes its matrix from the step's start follows in splinters only. Newton
/// also takes over while a transistor is saturated, and where steps without it fail again and again, as when one goes into
/// saturation: the charge that it stores grows e-fold in 26 mV, and what a step has left between charge and voltage is not
/// mended by a shorter one. A circuit with a junction that stores nothing is left to Newton altogether. Each of the two has
/// its own tolerance for the same error of a period.
/// </summary>
internal sealed class MixedMaker(Circuit circuit, LinearMaker linear, StageMaker stages) : StepMaker
{
    private const int MostFailures = 2; // of one step
    private const int Sure = 8; // steps with Newton after that
    private const double Wild = 10; // times the error that is allowed: no rounding

    private readonly ISwitching[] switching = [.. circuit.Banks.OfType<ISwitching>().Where(bank => bank.Watches > 0)];
    private readonly BipolarBank[] transistors = [.. circuit.Banks.OfType<BipolarBank>()];
    private readonly bool isBare = circuit.Banks.OfType<IJunctions>().Any(bank => bank.HasBare);
    private StepMaker current = linear;
    private int failures; // of the present step without Newton
    private int held; // steps that are still to be made with it

    /// <inheritdoc/>
    public override double[] From => current.From;

    /// <inheritdoc/>
    public override double[] To => current.To;

    /// <inheritdoc/>
    public override double[] Charge => current.Charge;

    /// <inheritdoc/>
    public override long Passes => linear.Passes + stages.Passes;

    /// <inheritdoc/>
    public override (string Unknown, double Residual) Worst => current.Worst;

    /// <inheritdoc/>
    public override void Start(double[] x, double time)
    {
        (current, failures, held) = (linear, 0, 0);
        current.Start(x, time);
    }

    /// <inheritdoc/>
    public override bool Make(double time, double h)
    {
        StepMaker next = isBare || held > 0 || IsTurning(time + 0.5 * h) || IsSaturated() ? stages : linear;
        if (next != current)
            next.TakeOver(current.From, current.Charge, time);
        current = next;
        return Judge(current.Make(time, h) && !IsWild(h));
    }

    // A step that is too short to be asked for its error may still have gone astray without Newton.
    private bool IsWild(double h) => current == linear && h <= Transient.Unquestioned && !(linear.LocalError() <= Wild);

    /// <inheritdoc/>
    public override double LocalError()
    {
        double error = current.LocalError();
        Judge(error <= 1);
        return error;
    }

    // What is not good enough is made again, shorter.
    private bool Judge(bool isGood)
    {
        if (!isGood && current == linear && ++failures == MostFailures)
            held = Sure;
        return isGood;
    }

    /// <inheritdoc/>
    public override void Begin(double h)
    {
        current.Begin(h);
        held = Math.Max(0, held - 1);
        failures = 0;
    }

    /// <inheritdoc/>
    public override void TakeOver(double[] x, double[] charge, double time) => current.TakeOver(x, charge, time);

    /// <inheritdoc/>
    public override void ForgetSlope() => current.ForgetSlope();

    // No step passes a corner, so that what turns in its middle turns all along.
    private bool IsTurning(double time)
    {
        foreach (ISwitching bank in switching)
            if (bank.Moves(time))
                return true;
        return false;
    }

    private bool IsSaturated()
    {
        foreach (BipolarBank bank in transistors)
            if (bank.Saturates(current.From))
                return true;
        return false;
    }
}
