using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>One design that can be built many times: <c>modules/NAME.yaml</c>.</summary>
/// <param name="Name">Its name.</param>
/// <param name="About">One paragraph for people.</param>
/// <param name="Panel">Size of its panel.</param>
/// <param name="Circuit">Its parts; empty when it is given by its data sheet alone.</param>
/// <param name="Pitch">How its pitch is read; null for a module that is no oscillator.</param>
/// <param name="Trims">Adjustments, in the order in which a person makes them.</param>
/// <param name="Sheet">What its data sheet says, for a module without a circuit; else null.</param>
/// <param name="At">Where it stands.</param>
public sealed record Module(
    string Name,
    string About,
    Panel Panel,
    ImmutableArray<Part> Circuit,
    PitchSpec? Pitch,
    ImmutableArray<TrimStep> Trims,
    DataSheet? Sheet,
    SourceSpan At
)
{
    /// <summary>Inputs whose voltage an output hands on to the next module: label of the input to label of the output.</summary>
    public ImmutableDictionary<string, string> Passes { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Designators of resistors and capacitors whose values may be chosen anew.</summary>
    public ImmutableArray<string> Free { get; init; } = [];

    /// <summary>The same design with one number of some parts changed.</summary>
    /// <param name="word">Which number: <c>value</c>, <c>tolerance</c>.</param>
    /// <param name="values">By designator, SI units.</param>
    public Module With(string word, IReadOnlyDictionary<string, double> values) =>
        this with
        {
            Circuit =
            [
                .. Circuit.Select(part => values.TryGetValue(part.Name, out double value) ? part with { Numbers = part.Numbers.SetItem(word, value) } : part),
            ],
        };
}

/// <summary>Panel size, m: the room that it takes in a rack (n·5.08 mm for n HP), and the depth behind it.</summary>
public sealed record Panel(double Width, double Height, double Depth)
{
    /// <summary>What stands where on it; null when the file gives no places.</summary>
    public PanelLayout? Layout { get; init; }
}

/// <summary>How an oscillator's pitch is read and what it should be.</summary>
/// <param name="Control">Label of the jack that carries the pitch voltage; null for a follower fed by its link.</param>
/// <param name="VoltsPerOctave">The ideal law's slope, V/octave.</param>
/// <param name="ReferenceFrequency">Ideal frequency at <paramref name="ReferenceVoltage"/>, Hz.</param>
/// <param name="ReferenceVoltage">Control voltage of the reference, V.</param>
/// <param name="Net">Net on which periods are counted.</param>
/// <param name="Level">Voltage at which they are counted, V.</param>
/// <param name="Rising">True: counted while the net rises through the level.</param>
/// <param name="TimingCapacitor">Designator of the capacitor whose charging sets the period; it must state 'starts at'.</param>
public sealed record PitchSpec(
    string? Control,
    double VoltsPerOctave,
    double ReferenceFrequency,
    double ReferenceVoltage,
    string Net,
    double Level,
    bool Rising,
    string TimingCapacitor
)
{
    /// <summary>The ideal frequency at a control voltage, Hz, an interval away from the voice's pitch.</summary>
    public double IdealHertz(double volts, double cents = 0) =>
        ReferenceFrequency * Math.Pow(2, (volts - ReferenceVoltage) / VoltsPerOctave + cents / 1200);
}

/// <summary>What a trim is for.</summary>
public enum TrimPurpose
{
    /// <summary>Volts per octave: low note against high note.</summary>
    Tracking,
    /// <summary>The frequency itself at one voltage.</summary>
    Centre,
    /// <summary>Tracking of the topmost octaves.</summary>
    HighEnd,
    /// <summary>Not a pitch trim (largest pulse width, wave shape, offset): left at its position.</summary>
    Other,
}

/// <summary>One adjustment: turn this trimmer until the pitch at the given voltages is right.</summary>
/// <param name="Trimmer">Designator of a trimmer of the circuit.</param>
/// <param name="Purpose">What for.</param>
/// <param name="Low">Lower control voltage (tracking), V.</param>
/// <param name="High">Higher control voltage (tracking and high end), or the only one (centre), V.</param>
public sealed record TrimStep(string Trimmer, TrimPurpose Purpose, double Low, double High, SourceSpan At)
{
    /// <summary>The control voltages at which it is read, V.</summary>
    public double[] Voltages => Purpose == TrimPurpose.Tracking ? [Low, High] : [High];
}

/// <summary>A bought module by its data sheet.</summary>
/// <param name="Inputs">Label to input resistance, ohm.</param>
/// <param name="Outputs">Label to output resistance, ohm.</param>
/// <param name="TrackingCents">Stated tracking error over five octaves, cents; null when it is no oscillator.</param>
/// <param name="RailCurrents">Rail name to current drawn, A.</param>
public sealed record DataSheet(
    ImmutableDictionary<string, double> Inputs,
    ImmutableDictionary<string, double> Outputs,
    double? TrackingCents,
    ImmutableDictionary<string, double> RailCurrents
)
{
    /// <summary>What one costs, in the folder's own currency; null when it is not stated.</summary>
    public double? Price { get; init; }
}
