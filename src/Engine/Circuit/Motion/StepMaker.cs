namespace Consort.Engine.Circuit.Motion;

/// <summary>Makes one step from a state, without deciding whether to keep it.</summary>
internal abstract class StepMaker
{
    /// <summary>State at the start of the step.</summary>
    public abstract double[] From { get; }

    /// <summary>State at its end.</summary>
    public abstract double[] To { get; }

    /// <summary>Charges at the start of the step.</summary>
    public abstract double[] Charge { get; }

    /// <summary>Evaluations of the circuit so far: Newton passes, or stages.</summary>
    public abstract long Passes { get; }

    /// <summary>The unknown that is to blame when a step cannot be made, and its residual.</summary>
    public abstract (string Unknown, double Residual) Worst { get; }

    /// <summary>Starts from a state: evaluates f and q there.</summary>
    public abstract void Start(double[] x, double time);

    /// <summary>Goes on from where another maker has come to.</summary>
    public abstract void TakeOver(double[] x, double[] charge, double time);

    /// <summary>Makes a step; false when its equations cannot be solved.</summary>
    public abstract bool Make(double time, double h);

    /// <summary>The local error of the step just made, in units of its tolerance.</summary>
    public abstract double LocalError();

    /// <summary>Makes the end of the step, which took h, the start of the next.</summary>
    public abstract void Begin(double h);

    /// <summary>After a corner the past says nothing of what comes.</summary>
    public virtual void ForgetSlope() { }
}
