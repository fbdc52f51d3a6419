namespace Consort.Engine.Design;

// C100 to C149: voices and stock.
public static partial class ErrorCodes
{
#pragma warning disable CS1591 // each entry says what it is
    public static readonly ErrorCode UnknownMember = new("C100", "a name that nothing in the voice has",
        "A cord or ribbon names a module, player or multiple that the voice file does not list.");
    public static readonly ErrorCode UnknownJack = new("C101", "a jack that is not there",
        "The module, player or multiple has no jack with that label. A player's jack is NAME/out; a multiple's are NAME/in and NAME/1 onwards.");
    public static readonly ErrorCode UnknownHeader = new("C102", "a ribbon header that is not there",
        "The module has no header of that name.");
    public static readonly ErrorCode NotAJackName = new("C103", "a jack or header without its owner",
        "Jacks and headers are written OWNER/LABEL: lead/pitch.");
    public static readonly ErrorCode TakenName = new("C104", "one name for two things of a voice",
        "Modules, players and multiples of a voice share one set of names, since cords name them alike.");
    public static readonly ErrorCode UnusableName = new("C105", "a name that a voice cannot use",
        "The slash parts owner and label, and 'supply' is the supply's own name.");
    public static readonly ErrorCode JackTakenTwice = new("C106", "two plugs in one jack",
        "A jack takes one plug. A signal for several inputs goes through a multiple.");
    public static readonly ErrorCode TwoSources = new("C107", "two sources on one net of cords",
        "Two outputs joined through cords and passive multiples pull against each other: neither voltage arrives.");
    public static readonly ErrorCode OutputToOutput = new("C108", "an output plugged into an output",
        "Both drive the cord. One end of it has to be an input.");
    public static readonly ErrorCode NoSource = new("C109", "cords that nothing drives",
        "All jacks that these cords join are inputs.");
    public static readonly ErrorCode PitchUnfed = new("C110", "an oscillator whose pitch jack is free",
        "Nothing is plugged into the jack that carries the pitch voltage. With a normal behind the jack it is a note: the oscillator stands at the normal's voltage.");
    public static readonly ErrorCode CordLoop = new("C111", "a cord that closes a loop",
        "Both its ends are joined already through other cords and passive multiples: it only picks up hum.");
    public static readonly ErrorCode FeedbackLoop = new("C112", "an output that feeds back to itself",
        "Modules and buffered multiples that only pass voltages on are patched in a ring.");
    public static readonly ErrorCode NotALead = new("C113", "a ribbon from a header that drives nothing",
        "A ribbon begins at a header of role lead, or at one of role through on a module that is fed by another ribbon.");
    public static readonly ErrorCode NotAFollower = new("C114", "a ribbon into a lead's header",
        "Two leads on one ribbon drive the same wires against each other.");
    public static readonly ErrorCode HeadersDisagree = new("C115", "two headers of a ribbon that disagree",
        "Wire by wire both ends carry the same net. Only where one module has 0 V the other may have a net of its own: the ground that it looks at.");
    public static readonly ErrorCode HeaderTakenTwice = new("C116", "two ribbons on one header",
        "A header takes one ribbon. More followers hang on the same ribbon.");
    public static readonly ErrorCode RibbonLoop = new("C117", "ribbons in a ring",
        "A lead is fed, along ribbons, by itself.");
    public static readonly ErrorCode FollowerUnfed = new("C118", "a follower that no ribbon feeds",
        "A module without a pitch jack takes its pitch from its link.");
    public static readonly ErrorCode UnknownRail = new("C119", "a rail that the supply does not have",
        "A module's power connector or data sheet names it; the voice's supply does not.");
    public static readonly ErrorCode IdleRail = new("C120", "a rail that no module uses", "Told as a note.");
    public static readonly ErrorCode RailUnfed = new("C121", "a supply net that is joined to no rail",
        "Parts of the module hang on a net with a rail's name, but neither a power connector nor a ribbon brings that rail to it.");
    public static readonly ErrorCode GroundUnjoined = new("C122", "a module whose 0 V is joined to nothing",
        "Neither a power connector, a ribbon nor a cord joins it to the supply's 0 V.");
    public static readonly ErrorCode UnknownControl = new("C123", "a setting of a part that is not there",
        "'set' names a designator that the module's circuit does not have.");
    public static readonly ErrorCode FixedControl = new("C124", "a setting of a part that cannot be moved",
        "Potentiometers, trimmers and selectors can be set.");
    public static readonly ErrorCode NoSuchModule = new("C125", "a module without its file",
        "The voice names a module that does not lie in the folder 'modules'.");
    public static readonly ErrorCode IdleModule = new("C126", "a module that the voice does not use", "Told as a note.");
    public static readonly ErrorCode IdlePatch = new("C127", "a player or multiple without a cord", "Told as a note.");
    public static readonly ErrorCode NoPitchPlayer = new("C128", "a voice that nothing plays",
        "One of the players carries the keyboard's voltage: 'plays: pitch'.");
    public static readonly ErrorCode NoRailsForBuffer = new("C129", "a buffered multiple without supply",
        "Its buffers need a positive and a negative rail.");
    public static readonly ErrorCode NotAMember = new("C130", "a voice without modules", "The map 'modules' is empty.");

    public static readonly ErrorCode NotStocked = new("C140", "a stock entry that is no part",
        "An entry's first name is a kind of part: {resistor: E96, ...}.");
    public static readonly ErrorCode NotASeries = new("C141", "a stock entry that says neither series nor value",
        "Kinds with values take a series of IEC 60063 (E3 to E192), one value, or 'any'.");
    public static readonly ErrorCode MeasuredSpread = new("C142", "measured departures beside another spread, or none at all",
        "'measured' lists how far parts of this entry were from their value; it stands instead of 'spread' and 'sigmas'.");
    public static readonly ErrorCode NotABreak = new("C143", "a price break that is none",
        "A lower price holds from a whole number of pieces on: 'price breaks: {100: 0.09}'.");
    public static readonly ErrorCode NotCounted = new("C144", "an extra for each of something that a kit does not count",
        "Extras come with each piece of a kind of part, with each module or with each voice.");
    public static readonly ErrorCode ExtraForNothing = new("C145", "an extra for a module that is not there",
        "'only' names a module by its file, without '.yaml'.");
#pragma warning restore CS1591
}
