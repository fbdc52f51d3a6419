namespace Consort.Engine.Circuit.Motion;

/// <summary>How closely a transient follows the circuit. A state's error in one step is held below
/// Relative·(|x| + Scale), a timing capacitor's below Timing times that.</summary>
/// <param name="Relative">Share of the value.</param>
/// <param name="VoltageScale">Voltage below which an error counts as absolute, V.</param>
/// <param name="CurrentScale">The same for branch currents, A.</param>
/// <param name="Timing">Factor for what decides when something happens: the nets of a timing capacitor (one that states
/// 'starts at'), of comparators' inputs, of switches' controls and of probes.</param>
/// <param name="Linear">True to step without Newton: a step costs half as much, and its error is estimated so large that it
/// is small where the estimate is loose.</param>
public sealed record Accuracy(
    double Relative,
    double VoltageScale = 1,
    double CurrentScale = 1e-3,
    double Timing = 0.01,
    bool Linear = false
)
{
    /// <summary>For waveforms: nets are held to a ten-thousandth in every step.</summary>
    public static Accuracy Default { get; } = new(1e-4);

    /// <summary>For pitch: the period's integration error stays under 0.01 cent, with an op amp as Schmitt trigger under
    /// 0.1 cent (see the tests); other nets are followed much more loosely.</summary>
    public static Accuracy Pitch { get; } = new(3e-2, Linear: true);

    /// <summary>A period about as close, by steps whose derivatives can be taken; other nets are followed more closely.</summary>
    public Accuracy Taped => Linear ? this with { Relative = Relative / 30, Linear = false } : this;

    /// <summary>What steps are made by unless something else is asked for.</summary>
    public StepMethod Method => Linear ? Mixed.Fourth : Tableau.Fourth;

    /// <summary>For equations: relative error with a small absolute floor.</summary>
    public static Accuracy Strict(double relative, double floor) => new(relative, floor / relative, floor / relative, 1);
}
