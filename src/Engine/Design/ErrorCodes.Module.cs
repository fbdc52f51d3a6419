namespace Consort.Engine.Design;

// C070 to C099: modules.
public static partial class ErrorCodes
{
#pragma warning disable CS1591 // each entry says what it is
    public static readonly ErrorCode CircuitOrSheet = new("C070", "a module with both a circuit and a data sheet, or with neither",
        "A module of one's own has its circuit, a bought one what its data sheet says.");
    public static readonly ErrorCode PitchText = new("C071", "a pitch reading that cannot be understood",
        "'reference: 32.703 Hz at 0 V', 'counted: rising through 2.5 V on saw core'.");
    public static readonly ErrorCode PitchNet = new("C072", "a pitch counted on a net that the circuit does not have",
        "Name a net that parts join.");
    public static readonly ErrorCode PitchControl = new("C073", "a pitch control that is no input jack's label",
        "'control' is the label of the jack that carries the pitch; a follower leaves it out.");
    public static readonly ErrorCode TimingCapacitor = new("C074", "a timing capacitor that is missing or has no 'starts at'",
        "The oscillator is started by letting this capacitor go from a known voltage.");
    public static readonly ErrorCode UnknownTrimmer = new("C075", "a trim of something that is no trimmer",
        "Each trim names a trimmer of the circuit.");
    public static readonly ErrorCode TrimVoltages = new("C076", "a trim without the voltages that it is made at",
        "'tracking' needs low and high, 'centre' and 'high end' need at.");
    public static readonly ErrorCode SameLabel = new("C077", "two jacks or two headers with one name",
        "Cords and ribbons name them by it.");
    public static readonly ErrorCode PitchWithoutCircuit = new("C078", "a pitch reading or trims without a circuit",
        "A module by its data sheet alone states its tracking there.");
    public static readonly ErrorCode PassesNothing = new("C079", "an input that is passed on and is not there, or an output that passes nothing on",
        "'passes' names an input jack's label and the label of the output that carries the same voltage.");
    public static readonly ErrorCode FreeNothing = new("C095", "a free value that is no resistor or capacitor with a tolerance",
        "'free: [R8, R14]' names parts of the circuit whose values 'retune' may choose.");
#pragma warning restore CS1591
}
