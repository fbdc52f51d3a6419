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
    public static readonly ErrorCode DamagedLog = new("C330", "a history that is damaged",
        "Pages of history.db hold what SQLite never wrote. The file is left as it is; units salvage saves what can be read into a new one.");
    public static readonly ErrorCode NewerLog = new("C331", "a history of a later Consort",
        "Its tables hold what this program does not know: it is neither read nor written.");
    public static readonly ErrorCode ForeignLog = new("C332", "a database that is no history of units",
        "A history bears a mark of its own in its header. Another program's file is not touched.");
    public static readonly ErrorCode LogNotOpened = new("C333", "a history that cannot be opened or written",
        "It lies beside voice.yaml, on a disk of this machine; several programs may use it at once, but not one for long alone.");
    public static readonly ErrorCode LogThere = new("C334", "a history that would be written over", "Backups and salvaged histories go into new files.");
    public static readonly ErrorCode NoLog = new("C335", "a voice without a history", "Nothing was recorded yet: measure --record begins it.");
    public static readonly ErrorCode LogEntry = new("C336", "an entry of a history that cannot be taken",
        "Entries are brought in as units export writes them: JSON or a table, each with unit and time.");
    public static readonly ErrorCode UnknownPlace = new("C340", "a reading at a place that is not known",
        "Voltages are read at nets of the module's file, currents from rails of the voice, frequencies at the control voltages that the message lists.");
#pragma warning restore CS1591
}
