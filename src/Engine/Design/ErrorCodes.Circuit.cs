namespace Consort.Engine.Design;

// C030 to C069: circuits and the parts library.
public static partial class ErrorCodes
{
#pragma warning disable CS1591 // each entry says what it is
    public static readonly ErrorCode NotAPart = new("C030", "an entry of a circuit that is no part",
        "A part is a map that begins with its kind: 'R3: {resistor: 100k, from: a, to: b}'.");
    public static readonly ErrorCode UnknownKind = new("C031", "a kind of part that is not known",
        "`consort kinds` lists them. What the list lacks can be given as a 'law'.");
    public static readonly ErrorCode KindNotFirst = new("C032", "a part whose kind does not stand first",
        "The first name in a part's map is its kind, so that a reader sees at once what it is.");
    public static readonly ErrorCode UnknownPartWord = new("C033", "a terminal or parameter that the kind does not have",
        "`consort kinds` lists each kind's words.");
    public static readonly ErrorCode MissingTerminal = new("C034", "a terminal that joins no net",
        "Every terminal is named. One that stays open on purpose is written 'open'.");
    public static readonly ErrorCode MissingValue = new("C035", "a value or word that the part must have",
        "It has no default that would be safe.");
    public static readonly ErrorCode UnknownModel = new("C036", "a model that is in no parts library",
        "Name one of the library, add it to the folder's parts.yaml with its data sheet, write 'ideal', or write every parameter.");
    public static readonly ErrorCode ListLength = new("C037", "a list of nets with too few or too many entries",
        "The list's places stand for the kind's terminals, in order.");
    public static readonly ErrorCode BadName = new("C038", "a name with a character that has another meaning",
        "A slash joins a module's name to a part's or a net's, square brackets hold a net in a formula.");
    public static readonly ErrorCode NoSuchWay = new("C039", "a selector set to a way that it does not have",
        "Ways count from 1.");
    public static readonly ErrorCode UnjoinedNet = new("C040", "a net with a single terminal on it",
        "Nothing flows into a wire with one end: often a slip in the net's name. A terminal left open on purpose joins 'open'.");
    public static readonly ErrorCode FloatingNet = new("C041", "a net whose voltage nothing sets",
        "Only inputs, capacitors or current sources join it, so no path for direct current leads to 0 V.");
    public static readonly ErrorCode SourceLoop = new("C042", "ideal voltage sources in a loop",
        "Their voltages fight and no resistance limits the current. Inductors without resistance count as such.");
    public static readonly ErrorCode NoGround = new("C043", "a circuit without 0 V",
        "All voltages are measured against the net '0 V'.");
    public static readonly ErrorCode FormulaNet = new("C044", "a formula that reads a net that no part joins",
        "Often a slip in the net's name.");
    public static readonly ErrorCode PairMembers = new("C045", "a matched pair with other than two transistors",
        "Exactly two transistors name the pair as their model.");
    public static readonly ErrorCode PairPolarity = new("C046", "a transistor of the other polarity than its pair",
        "The pair's library entry says npn or pnp.");
    public static readonly ErrorCode ArrayWords = new("C047", "an array's member without its match, or a match without an array",
        "How far members differ is what an array is bought for; its data sheet calls it ratio tolerance or matching.");
    public static readonly ErrorCode ArrayMembers = new("C048", "an array with one member, or with members that cannot be one array",
        "Parts made together on one substrate have one kind and one set of limits.");
    public static readonly ErrorCode BadFormula = new("C050", "a formula that cannot be read",
        "Plain arithmetic of [net] voltages, t, T, k, q, pi; operators + - * / ^; numbers in plain SI.");
    public static readonly ErrorCode NotALibraryEntry = new("C060", "an entry of a parts library that is none",
        "An entry is 'NAME: {kind: ..., sheet: ..., parameters}', of a kind whose parts are named by model.");
    public static readonly ErrorCode NoSheet = new("C061", "a library entry without its data sheet",
        "Name maker, document and revision: a number without its source cannot be checked.");
#pragma warning restore CS1591
}
