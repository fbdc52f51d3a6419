using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Batches;
using Consort.Engine.Bench.History;
using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Documents.Bench;
using Consort.Engine.Pitch;

namespace Consort.Cli.Verbs;

/// <summary>units list | show | record | certificate | spread | export | import | backup | salvage VOICE: the history of a voice's built units.</summary>
internal sealed class UnitsVerb(Screen screen, ReadVoice read, Func<string, Stock> stock, TimeProvider clock) : IVerb
{
    /// <summary>What there is to be written down of a unit.</summary>
    internal sealed record Line(string Folder, string Unit, string? Note = null, string? Fault = null, string? Mended = null, string? Cause = null, string? Trim = null, string? On = null);

    public string Example =>
        "consort units show examples/quartet quartet-lead/0007\n"
        + "consort units record examples/quartet quartet-lead/0007 --trim \"RV2 +1.5\"\n"
        + "consort units export examples/quartet history.csv";

    public Command Command()
    {
        Command command = new("units", "Keep the history of built units by serial: readings, trims, faults, notes, drift.");
        Add(command, "list", "List all units.", [], (folder, _, json) => List(folder, json), json: true);
        Add(command, "show", "Show what happened to one unit, and its drift.", [("UNIT", "Module and serial, as MODULE/SERIAL.")], (folder, takes, json) => Show(folder, takes[0], json), json: true);
        command.Add(RecordCommand());
        Add(command, "certificate", "Write a unit's test certificate (PDF) from its last readings.", [("UNIT", "Module and serial, as MODULE/SERIAL."), ("FILE", "The .pdf to write.")],
            (folder, takes, _) => Certify(folder, takes[0], takes[1]));
        Add(command, "spread", "Compare a module's units, as first read, with the spread that the shelf's tolerances foretell.", [("MODULE", "The module's file name, without its ending.")], (folder, takes, json) => Spread(folder, takes[0], json), json: true);
        Add(command, "export", "Write the history to a file.", [("FILE", "A .json or .csv file.")], (folder, takes, _) => Export(folder, takes[0]));
        Add(command, "import", "Take in what a file of export holds and is not there yet.", [("FILE", "A .json or .csv file.")], (folder, takes, _) => Import(folder, takes[0]));
        Add(command, "backup", "Copy the history, while others may write to it.", [("FILE", "A file that is not there yet.")], (folder, takes, _) => BackUp(folder, takes[0]));
        Add(command, "salvage", "Save what can be read of a damaged history into a new file.", [("FILE", "A file that is not there yet.")], (folder, takes, _) => Rescue(folder, takes[0]));
        return command;
    }

    private static Argument<string> VoiceFolder() => new("VOICE") { Description = "The voice's folder (it holds history.db)." };

    private static void Add(Command verb, string name, string what, (string Name, string What)[] takes, Func<string, string[], bool, int> run, bool json = false)
    {
        Argument<string> folder = VoiceFolder();
        Argument<string>[] others = [.. takes.Select(take => new Argument<string>(take.Name) { Description = take.What })];
        Option<bool> asJson = new("--json") { Description = "Print JSON (docs/json.md) instead of tables." };
        Command command = new(name, what) { folder };
        foreach (Argument<string> other in others)
            command.Add(other);
        if (json)
            command.Add(asJson);
        command.SetAction(parsed => run(parsed.GetRequiredValue(folder), [.. others.Select(other => parsed.GetRequiredValue(other))], json && parsed.GetValue(asJson)));
        verb.Add(command);
    }

    private Command RecordCommand()
    {
        Argument<string> folder = VoiceFolder(), unit = new("UNIT") { Description = "Module and serial, as MODULE/SERIAL." };
        Option<string?> note = new("--note") { Description = "A line about it.", HelpName = "TEXT" };
        Option<string?> fault = new("--fault") { Description = "Something that is wrong with it.", HelpName = "TEXT" };
        Option<string?> mended = new("--mended") { Description = "Something that was wrong and is mended now.", HelpName = "TEXT" };
        Option<string?> cause = new("--cause") { Description = "What the fault was.", HelpName = "TEXT" };
        Option<string?> trim = new("--trim") { Description = "A trimmer that was turned, clockwise positive: \"RV2 +1.5\"; or where it stands: \"RV2 40%\".", HelpName = "TURN" };
        Option<string?> on = new("--on") { Description = "When, as 2026-03-01 or 2026-03-01T14:30Z; left out: now.", HelpName = "DATE" };
        Command command = new("record", "Write down a trim, a fault or a note.") { folder, unit, note, fault, mended, cause, trim, on };
        command.SetAction(parsed => Record(new(
            parsed.GetRequiredValue(folder), parsed.GetRequiredValue(unit), parsed.GetValue(note), parsed.GetValue(fault),
            parsed.GetValue(mended), parsed.GetValue(cause), parsed.GetValue(trim), parsed.GetValue(on))));
        return command;
    }

    /// <summary>Lists all units.</summary>
    public int List(string folder, bool json = false)
    {
        if (Entries(folder, null) is not { } entries)
            return Exit.BadInput;
        ImmutableArray<UnitSummary> units = UnitSummary.All(entries);
        if (json)
            screen.Line(UnitsJson.Write(units));
        else
            HistoryTables.Print(screen, units);
        return Exit.Done;
    }

    /// <summary>Shows one unit.</summary>
    public int Show(string folder, string unit, bool json = false)
    {
        if (Unit(unit) is not { } name || Entries(folder, null) is not { } all)
            return Exit.BadInput;
        ImmutableArray<LogEntry> entries = [.. all.Where(entry => entry.Unit == name)];
        if (entries.IsEmpty)
            return Refuse($"{ErrorList.Quote(unit)} is not in the history", NearName.Mend(unit, [.. all.Select(entry => $"{entry.Unit}").Distinct()]));
        UnitDrift drift = UnitDrift.Of(entries);
        if (json)
            screen.Line(LogJson.Write(entries, drift));
        else
            HistoryTables.Print(screen, entries, drift);
        return Exit.Done;
    }

    /// <summary>Writes a line down.</summary>
    public int Record(Line line)
    {
        if (Unit(line.Unit) is not { } unit)
            return Exit.BadInput;
        DateTimeOffset? time = line.On is { } on ? LogTime.Read(on) : clock.GetUtcNow();
        if (time is not { } when)
            return Refuse($"{ErrorList.Quote(line.On!)} is no date", "write it as 2026-03-01 or 2026-03-01T14:30Z");
        string[] modules = [.. DesignTexts.Names(line.Folder).Where(name => name.StartsWith("modules/", StringComparison.Ordinal)).Select(name => Path.GetFileNameWithoutExtension(name)!)];
        if (!modules.Contains(unit.Module))
            return Refuse($"{ErrorList.Quote(unit.Module)} is no module of this voice", NearName.Mend(unit.Module, modules));
        (List<LogEntry> entries, string? fault) = TurnWords.Entries(unit, when, line);
        return fault is not null ? Refuse(fault, "as in: --trim \"RV2 +1.5\" --fault \"no output\" --cause \"cold joint at U2\" --note \"sold\"") : Keep(line.Folder, entries);
    }

    /// <summary>Writes a unit's certificate.</summary>
    public int Certify(string folder, string unit, string file)
    {
        if (BenchUnit.Place(screen, read, "units", folder, unit, null) is not { } found || Entries(folder, found.Place.Unit) is not { } entries)
            return Exit.BadInput;
        if (Certificate.Of(found.Voice, found.Place, entries) is not { } certificate)
            return Refuse($"{unit} was never read", $"measure it: consort measure {folder} --unit {unit} FILE --record");
        if (!screen.Wrote(file, () => WholeFile.Write(file, CertificatePdf.Write(certificate))))
            return Exit.BadInput;
        screen.Line($"{file}: {unit}, {certificate.Verdict switch { Conformity.Within => "pass", Conformity.Outside => "fail", _ => "not decided" }}");
        return certificate.Verdict == Conformity.Outside ? Exit.LimitMissed : Exit.Done;
    }

    /// <summary>Compares a module's units with the foretold spread.</summary>
    public int Spread(string folder, string module, bool json = false)
    {
        if (BenchUnit.Place(screen, read, "units", folder, $"{module}/1", null) is not { } found || Entries(folder, null) is not { } entries)
            return Exit.BadInput;
        (BatchSpread? spread, Unproved? failure) = BatchSpread.Find(found.Voice, stock(folder), found.Place, entries, Environment.ProcessorCount);
        if (spread is null)
        {
            screen.Complain(folder, failure);
            return Exit.NotComputed;
        }
        if (json)
            screen.Line(BatchJson.Write(module, spread));
        else
            BatchTables.Print(screen, module, spread);
        return Exit.Done;
    }

    /// <summary>Writes all of it to a file.</summary>
    public int Export(string folder, string file)
    {
        bool isTable = Path.GetExtension(file).Equals(".csv", StringComparison.OrdinalIgnoreCase);
        if (!isTable && !Path.GetExtension(file).Equals(".json", StringComparison.OrdinalIgnoreCase))
            return Refuse($"{file} is neither .json nor .csv", "name a file that ends in .json or .csv");
        if (Entries(folder, null) is not { } entries || !screen.Wrote(file, () => WholeFile.Write(file, isTable ? LogCsv.Write(entries) : LogJson.Write(entries))))
            return Exit.BadInput;
        screen.Line($"{file}: {Figures.WithUnit(entries.Length, "entries")}");
        return Exit.Done;
    }

    /// <summary>Takes a file's entries in.</summary>
    public int Import(string folder, string file)
    {
        (ImmutableArray<LogEntry> entries, ImmutableArray<InputError> errors) = LogImport.Read(file);
        screen.Complain(errors);
        if (errors.Any(error => !error.IsNote))
            return Exit.BadInput;
        (UnitLog? log, InputError? error) = UnitLog.Open(UnitLog.In(folder));
        using (log)
        {
            ImmutableArray<LogEntry> there = [];
            if (error is null)
                (there, error) = log!.Entries();
            ImmutableArray<LogEntry> fresh = LogImport.New(entries, there);
            error ??= log!.Record(fresh);
            if (error is null)
                screen.Line($"{file}: {Figures.WithUnit(fresh.Length, "entries")} taken in, {entries.Length - fresh.Length} were there already");
        }
        return Told(error);
    }

    /// <summary>Copies the history.</summary>
    public int BackUp(string folder, string file)
    {
        using UnitLog? log = Open(folder);
        if (log is null)
            return Exit.BadInput;
        InputError? error = log.BackUp(file);
        if (error is null)
            screen.Line($"{file}: a copy of {UnitLog.FileName}");
        return Told(error);
    }

    /// <summary>Saves what can be read.</summary>
    public int Rescue(string folder, string file)
    {
        if (!File.Exists(UnitLog.In(folder)))
            return Told(Missing(folder));
        (Salvage? salvage, InputError? error) = Salvage.Run(UnitLog.In(folder), file);
        if (salvage is not null)
            screen.Line($"{file}: {Figures.WithUnit(salvage.Kept, "entries")} with {Figures.WithUnit(salvage.Readings, "readings")} saved, {Figures.WithUnit(salvage.Unreadable, "rows")} could not be read.\n"
                + $"Look through it, then put it in the place of {UnitLog.FileName}; keep the damaged file.");
        return Told(error);
    }

    private int Keep(string folder, IReadOnlyCollection<LogEntry> entries)
    {
        InputError? error = Kept(folder, entries);
        foreach (LogEntry entry in entries.Where(_ => error is null))
            screen.Line($"Recorded: {entry.Unit}, {LogTime.Short(entry.Time)} UTC, {LogRow.Cell(entry, "kind")}.");
        return Told(error);
    }

    /// <summary>Keeps entries in a folder's history.</summary>
    /// <returns>Why nothing was kept, or null.</returns>
    public static InputError? Kept(string folder, IEnumerable<LogEntry> entries)
    {
        (UnitLog? log, InputError? error) = UnitLog.Open(UnitLog.In(folder));
        using (log)
            return error ?? log!.Record(entries);
    }

    private ImmutableArray<LogEntry>? Entries(string folder, UnitName? unit)
    {
        using UnitLog? log = Open(folder);
        if (log is null)
            return null;
        (ImmutableArray<LogEntry> entries, InputError? error) = log.Entries(unit);
        return Told(error) == Exit.Done ? entries : null;
    }

    private UnitLog? Open(string folder)
    {
        (UnitLog? log, InputError? error) = File.Exists(UnitLog.In(folder)) ? UnitLog.Open(UnitLog.In(folder)) : (null, Missing(folder));
        Told(error);
        return log;
    }

    private static InputError Missing(string folder) =>
        new(ErrorCodes.NoLog.Code, new(UnitLog.In(folder).Replace('\\', '/'), 0, 0, 0), "there is no history yet", "begin one: consort measure VOICE --unit MODULE/SERIAL FILE --record");

    private UnitName? Unit(string text)
    {
        (UnitName? unit, string? what) = UnitName.Read(text);
        if (unit is null)
            Refuse(what!, "write it as module/0001");
        return unit;
    }

    private int Told(InputError? error)
    {
        if (error is not null)
            screen.Complain([error]);
        return error is null ? Exit.Done : Exit.BadInput;
    }

    private int Refuse(string what, string mend)
    {
        screen.Complain($"consort units: {what}\n  mend: {mend}");
        return Exit.BadInput;
    }
}
