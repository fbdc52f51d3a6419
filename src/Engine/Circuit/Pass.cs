namespace Consort.Engine.Circuit;

/// <summary>What the equations are evaluated for.</summary>
public enum Regime
{
    /// <summary>Operating point: nothing moves; capacitors that start at a voltage are held there.</summary>
    Rest,
    /// <summary>Transient and small signal: charges move.</summary>
    Motion,
}

/// <summary>
/// One evaluation of the circuit's equations f(x, t) + dq(x)/dt = 0. Part banks add their currents to <see cref="F"/>,
/// their charges to <see cref="Q"/>, and the derivatives to <see cref="G"/> = ∂f/∂x and <see cref="C"/> = ∂q/∂x at the
/// slots they asked for when the circuit was assembled. Unknown 0 is ground: X[0] is 0, and what is added to row 0 or
/// slot 0 is thrown away, so that no stamp needs a branch.
/// </summary>
public sealed class Pass
{
    /// <summary>Unknowns: net voltages (V), branch currents (A), inner states. X[0] = 0 is ground.</summary>
    public double[] X = [];

    /// <summary>Residual of each row: the current that leaves the net (A), or a branch's equation.</summary>
    public double[] F = [];

    /// <summary>Charge of each row (C), flux (Wb), or an inner state's.</summary>
    public double[] Q = [];

    /// <summary>∂f/∂x by slot.</summary>
    public double[] G = [];

    /// <summary>∂q/∂x by slot.</summary>
    public double[] C = [];

    /// <summary>Time, s.</summary>
    public double Time;

    /// <summary>Absolute temperature of the circuit, K.</summary>
    public double Temperature = 298.15;

    /// <summary>Rest or motion.</summary>
    public Regime Regime;

    /// <summary>False when G and C are not asked for: a bank may leave them alone.</summary>
    public bool WantsSlopes = true;

    /// <summary>Conductance across every junction that helps a hard start, S; op amps lose gain with it. 0 in every final
    /// answer.</summary>
    public double Gmin;

    /// <summary>True when junction voltages may be held back against the last pass; banks keep the last voltages.</summary>
    public bool Limiting;

    /// <summary>Set by a bank that held a junction back: the pass must not count as converged.</summary>
    public bool Limited;
}
