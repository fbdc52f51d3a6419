namespace Consort.Engine.Design;

// C001 to C029: files, YAML, quantities, maps.
public static partial class ErrorCodes
{
#pragma warning disable CS1591 // each entry says what it is
    public static readonly ErrorCode Syntax = new("C001", "YAML that cannot be read",
        "The file is read no further than this place. Look at indentation, brackets and quotes.");
    public static readonly ErrorCode Unreadable = new("C002", "a file that cannot be opened",
        "The file does not exist, is a folder, or may not be read.");
    public static readonly ErrorCode NotText = new("C003", "a file that is not text",
        "Input is UTF-8 text without control characters.");
    public static readonly ErrorCode RepeatedKey = new("C004", "a name that stands twice in one map",
        "Of two entries with one name (two R3, two 'tolerance') only one could count. Rename or delete one.");
    public static readonly ErrorCode TooLarge = new("C005", "a file that is too large", "The limit is 4 MB.");
    public static readonly ErrorCode TooDeep = new("C006", "maps and lists nested too deep",
        "No design needs more than 32 levels.");
    public static readonly ErrorCode NotPlain = new("C007", "an anchor, alias, tag or second document",
        "Input is plain YAML: write the value out in each place, one document a file.");
    public static readonly ErrorCode EmptyFile = new("C008", "a file with nothing in it", "The file holds no entries.");
    public static readonly ErrorCode EmptyKey = new("C009", "an entry without a usable name",
        "A name is plain text, not empty, no list and no map.");

    public static readonly ErrorCode NotAQuantity = new("C012", "a text that is not a value",
        "Values are written as the trade does: 4k7, 4.7k, 100n, 12 V, 0.1%. One number, one multiplier, one unit.");
    public static readonly ErrorCode NoUnit = new("C013", "a value without its unit",
        "A bare number is enough only where the kind of value is plain from the part, as in 'resistor: 100k'.");
    public static readonly ErrorCode OtherDimension = new("C014", "a value of another kind",
        "A volt where ohms are asked, and the like.");
    public static readonly ErrorCode OutOfRange = new("C015", "a value outside what it can be",
        "A negative resistance, a position beyond the end of travel, a tolerance of 100 % or more.");

    public static readonly ErrorCode WrongShape = new("C020", "a text, list or map where another is asked",
        "Each entry of the format is one of the three.");
    public static readonly ErrorCode UnknownKey = new("C021", "an entry that is not known here",
        "Often a slip of spelling: the message names the nearest known word.");
    public static readonly ErrorCode MissingKey = new("C022", "an entry that is missing", "The entry has no default.");
    public static readonly ErrorCode NoValue = new("C023", "an entry without a value",
        "Nothing follows the colon. Without a space after it, a colon belongs to the name.");
    public static readonly ErrorCode UnknownWord = new("C024", "a word that is not one of the allowed ones",
        "The message lists them.");
#pragma warning restore CS1591
}
