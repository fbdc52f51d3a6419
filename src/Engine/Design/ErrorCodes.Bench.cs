namespace Consort.Engine.Design;

// C300 to C349: what is measured at the bench.
public static partial class ErrorCodes
{
#pragma warning disable CS1591 // each entry says what it is
    public static readonly ErrorCode NotARecording = new("C300", "a sound file that cannot be read",
        "Recordings are WAV files: PCM of 8 to 32 bits or floating point, any rate.");
    public static readonly ErrorCode NoChannel = new("C301", "a channel that a recording does not have",
        "Channels count from 1.");
    public static readonly ErrorCode NoNote = new("C302", "a recording without a steady note",
        "A note is found when it stands for a third of a second or more, well above the noise. Look at level, cable and channel.");
    public static readonly ErrorCode NoteCount = new("C303", "more or fewer notes than control voltages",
        "Every note of a recording stands for one control voltage, in order. The message lists what was found.");
    public static readonly ErrorCode UnplacedNote = new("C304", "a note whose control voltage cannot be told",
        "Without a list of control voltages a note must stand near a whole octave of the module's law.");
    public static readonly ErrorCode TableShape = new("C305", "a table of readings with a column missing or left open",
        "The first row names the columns; every row has a cell for each.");
    public static readonly ErrorCode NoReading = new("C306", "a table without a reading", "Below the row of names stands one reading a row.");
    public static readonly ErrorCode UnknownUnit = new("C307", "a unit of no module of the voice",
        "A unit is MODULE/SERIAL: the module's file name, and what is written on the unit.");
    public static readonly ErrorCode FileKind = new("C308", "a file that is neither a table nor a recording",
        "Readings come as .csv (or .txt, .tsv) and as .wav.");
#pragma warning restore CS1591
}
