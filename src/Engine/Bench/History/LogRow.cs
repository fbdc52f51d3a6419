using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;

namespace Consort.Engine.Bench.History;

/// <summary>
/// Entries as rows of named texts, one a reading, trim, fault or note: the form that JSON and tables share, so that both mean
/// the same. Numbers are written in the fewest digits that read back to the same bits; units are SI.
/// </summary>
public static class LogRow
{
    /// <summary>Words of a row's kind.</summary>
    public const string Readings = "readings", Sync = "sync", Trim = "trim", Fault = "fault", Note = "note";

    /// <summary>Columns of every entry.</summary>
    public static readonly ImmutableArray<string> Heads = ["module", "serial", "time", "kind"];

    /// <summary>Columns of a sitting, which each of its readings repeats in a table.</summary>
    public static readonly ImmutableArray<string> OfSitting =
        ["occasion", "lawHertz", "lawVolts", "lawVoltsPerOctave", "clockRatio", "clockUncertainty", "clockCalibrated"];

    /// <summary>Columns of a reading.</summary>
    public static readonly ImmutableArray<string> OfReading =
    [
        "controlVolts", "controlUncertaintyVolts", "hertz", "uncertaintyHertz", "kelvin", "from", "signalToNoiseDb", "driftCents", "waveShape", "duty", "distortion",
        "voltsPeakToPeak", "stands",
    ];

    /// <summary>Columns of trims, faults and notes.</summary>
    public static readonly ImmutableArray<string> OfOthers = ["trimmer", "turned", "position", "text", "cause", "mended"];

    /// <summary>Columns of a hold under sync, beside its occasion and where it is from.</summary>
    public static readonly ImmutableArray<string> OfSync =
    [
        "sweptFromCents", "sweptToCents", "leastCents", "leadHertz", "flatCents", "flatUncertaintyCents", "flatReached", "sharpCents", "sharpUncertaintyCents", "sharpReached",
    ];

    /// <summary>Every column of a table.</summary>
    public static readonly ImmutableArray<string> Columns = [.. Heads, .. OfSitting, .. OfReading, .. OfOthers, .. OfSync];

    /// <summary>Columns of an entry that is no sitting: what it has of all.</summary>
    public static readonly ImmutableArray<string> Beside = [.. Columns.Except(Heads)];

    /// <summary>What stands in a column of an entry's head; null for nothing.</summary>
    public static string? Cell(LogEntry entry, string column) =>
        (column, entry) switch
        {
            ("module", _) => entry.Unit.Module,
            ("serial", _) => entry.Unit.Serial,
            ("time", _) => LogTime.Text(entry.Time),
            ("kind", _) => entry switch { SittingEntry => Readings, SyncEntry => Sync, TrimEntry => Trim, FaultEntry => Fault, _ => Note },
            ("occasion", SittingEntry sitting) => sitting.Occasion,
            (_, SyncEntry sync) => Cell(sync, column),
            ("lawHertz", SittingEntry sitting) => Number(sitting.Law.Hertz),
            ("lawVolts", SittingEntry sitting) => Number(sitting.Law.Volts),
            ("lawVoltsPerOctave", SittingEntry sitting) => Number(sitting.Law.VoltsPerOctave),
            ("clockRatio", SittingEntry sitting) => Number(sitting.Clock.Ratio),
            ("clockUncertainty", SittingEntry sitting) => Number(sitting.Clock.Uncertainty),
            ("clockCalibrated", SittingEntry sitting) => Claim(sitting.Clock.IsCalibrated),
            ("trimmer", TrimEntry trim) => trim.Trimmer,
            ("turned", TrimEntry trim) => Number(trim.Turned),
            ("position", TrimEntry trim) => Number(trim.Position),
            ("text", FaultEntry fault) => fault.What,
            ("cause", FaultEntry fault) => fault.Cause,
            ("mended", FaultEntry fault) => Claim(fault.Mended),
            ("text", NoteEntry note) => note.Text,
            _ => null,
        };

    private static string? Cell(SyncEntry sync, string column) =>
        (column, sync.Hold) switch
        {
            ("occasion", _) => sync.Occasion,
            ("from", _) => sync.From,
            ("sweptFromCents", _) => Number(sync.FromCents),
            ("sweptToCents", _) => Number(sync.ToCents),
            ("leastCents", _) => Number(sync.LeastCents),
            (_, null) => null,
            ("leadHertz", { } hold) => Number(hold.LeadHertz),
            ("flatCents", { } hold) => Number(hold.Flat.Cents),
            ("flatUncertaintyCents", { } hold) => Number(hold.Flat.Uncertainty),
            ("flatReached", { } hold) => Claim(hold.Flat.IsReached),
            ("sharpCents", { } hold) => Number(hold.Sharp.Cents),
            ("sharpUncertaintyCents", { } hold) => Number(hold.Sharp.Uncertainty),
            ("sharpReached", { } hold) => Claim(hold.Sharp.IsReached),
            _ => null,
        };

    /// <summary>What stands in a column of a reading.</summary>
    public static string? Cell(KeptReading reading, string column) =>
        column switch
        {
            "controlVolts" => Number(reading.Volts),
            "controlUncertaintyVolts" => Number(reading.VoltsUncertainty),
            "hertz" => Number(reading.Hertz),
            "uncertaintyHertz" => Number(reading.Uncertainty),
            "kelvin" => Number(reading.Kelvin),
            "from" => reading.From,
            "signalToNoiseDb" => Number(reading.SignalToNoise),
            "driftCents" => Number(reading.DriftCents),
            "waveShape" => reading.Shape,
            "duty" => Number(reading.Duty),
            "distortion" => Number(reading.Distortion),
            "voltsPeakToPeak" => Number(reading.VoltsPeakToPeak),
            "stands" => reading.StandsText,
            _ => null,
        };

    /// <summary>An entry as one text: two that are the same have the same.</summary>
    public static string Whole(LogEntry entry) =>
        string.Join('\u001f', Columns.Select(column => Cell(entry, column)))
        + (entry is SittingEntry sitting ? string.Concat(sitting.Readings.Select(reading => '\u001e' + string.Join('\u001f', OfReading.Select(column => Cell(reading, column))))) : "");

    private static string? Number(double? number) => number?.ToString("R", CultureInfo.InvariantCulture);

    private static string Claim(bool claim) => claim ? "true" : "false";
}

/// <summary>Makes an entry, or a reading, of named texts; says what is missing or is no number.</summary>
/// <param name="cell">What stands in a column and where; null for nothing.</param>
/// <param name="at">Where the row stands.</param>
internal sealed class LogRowReader(Func<string, (string Text, SourceSpan At)?> cell, SourceSpan at, ErrorList errors)
{
    /// <summary>The entry, without readings where it is a sitting; null with errors.</summary>
    public LogEntry? Entry()
    {
        int before = errors.Mistakes;
        UnitName unit = Unit();
        DateTimeOffset time = Time();
        LogEntry? entry = Need("kind") switch
        {
            LogRow.Readings => new SittingEntry(unit, time, Text("occasion"), new(Above("lawHertz"), Number("lawVolts"), Above("lawVoltsPerOctave")),
                new RecorderClock(Above("clockRatio"), Number("clockUncertainty"), Claim("clockCalibrated")), []),
            LogRow.Sync => new SyncEntry(unit, time, Text("occasion"), Text("from") ?? "", Number("sweptFromCents"), Number("sweptToCents"), Number("leastCents"), Hold()),
            LogRow.Trim => new TrimEntry(unit, time, Need("trimmer"), Maybe("turned"), Maybe("position")),
            LogRow.Fault => new FaultEntry(unit, time, Need("text"), Text("cause"), Claim("mended")),
            LogRow.Note => new NoteEntry(unit, time, Need("text")),
            "" => null,
            { } other => Refuse(other),
        };
        return errors.Mistakes == before ? entry : null;
    }

    /// <summary>The reading; null with errors.</summary>
    public KeptReading? Reading()
    {
        int before = errors.Mistakes;
        KeptReading reading = new(Number("controlVolts"), Number("controlUncertaintyVolts"), Above("hertz"), Number("uncertaintyHertz"), Maybe("kelvin"), Text("from") ?? "")
        {
            SignalToNoise = Maybe("signalToNoiseDb"), DriftCents = Maybe("driftCents"), Shape = Text("waveShape"), Duty = Maybe("duty"),
            Distortion = Maybe("distortion"), VoltsPeakToPeak = Maybe("voltsPeakToPeak"), Stands = Stands(),
        };
        return errors.Mistakes == before ? reading : null;
    }

    private KeptHold? Hold() =>
        Text("leadHertz") is null ? null
        : new(Above("leadHertz"), new(Number("flatCents"), Number("flatUncertaintyCents"), Claim("flatReached")), new(Number("sharpCents"), Number("sharpUncertaintyCents"), Claim("sharpReached")));

    private UnitName Unit()
    {
        (string module, string serial) = (Need("module"), Need("serial"));
        (UnitName? unit, string? what) = module.Length == 0 || serial.Length == 0 ? (null, null) : UnitName.Read($"{module}/{serial}");
        if (what is not null)
            errors.Add(ErrorCodes.LogEntry, cell("serial")!.Value.At, what, "write module and serial as they stand in units list");
        return unit ?? default;
    }

    private DateTimeOffset Time()
    {
        if (Need("time") is { Length: > 0 } text && LogTime.Read(text) is null)
            errors.Add(ErrorCodes.LogEntry, cell("time")!.Value.At, $"{ErrorList.Quote(text)} is no date", "write it as 2026-03-01T14:30:00Z");
        return LogTime.Read(Text("time") ?? "") ?? default;
    }

    private LogEntry? Refuse(string kind)
    {
        errors.Add(ErrorCodes.LogEntry, cell("kind")!.Value.At, $"{ErrorList.Quote(kind)} is no kind of entry",
            NearName.Mend(kind, [LogRow.Readings, LogRow.Sync, LogRow.Trim, LogRow.Fault, LogRow.Note]));
        return null;
    }

    private string? Text(string column) => cell(column) is { Text.Length: > 0 } found ? found.Text : null;

    private string Need(string column)
    {
        if (Text(column) is { } text)
            return text;
        errors.Add(ErrorCodes.LogEntry, at, $"the entry has no '{column}'", "write it as units export does");
        return "";
    }

    private double? Maybe(string column)
    {
        if (Text(column) is not { } text)
            return null;
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number))
            return number;
        errors.Add(ErrorCodes.LogEntry, cell(column)!.Value.At, $"{column}: {ErrorList.Quote(text)} is no number", "write it as 1.25 or 1.2e-5");
        return null;
    }

    private double Number(string column)
    {
        if (Text(column) is null)
            Need(column);
        return Maybe(column) ?? 0;
    }

    private double Above(string column)
    {
        double number = Number(column);
        if (Text(column) is not null && number <= 0)
            errors.Add(ErrorCodes.LogEntry, cell(column)!.Value.At, $"{column} must be above 0", "write it as units export does");
        return number;
    }

    private ImmutableDictionary<string, TrimmerStand> Stands()
    {
        if (KeptReading.ReadStands(Text("stands")) is { } stands)
            return stands;
        errors.Add(ErrorCodes.LogEntry, cell("stands")!.Value.At, $"{ErrorList.Quote(Text("stands")!)} does not say where trimmers stand", "write it as 'RV2@0.4 RV3+1.5'");
        return ImmutableDictionary<string, TrimmerStand>.Empty;
    }

    private bool Claim(string column)
    {
        if (Text(column) is { } text && text is not ("true" or "false"))
            errors.Add(ErrorCodes.LogEntry, cell(column)!.Value.At, $"{column}: {ErrorList.Quote(text)} is neither true nor false", "write true or false");
        return Text(column) == "true";
    }
}
