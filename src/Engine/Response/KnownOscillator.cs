using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Response;

/// <summary>What is known of an oscillator before its sheets are read.</summary>
/// <param name="Member">Its place in the voice.</param>
/// <param name="Hertz">Its frequency with nothing moved.</param>
/// <param name="Outputs">Its output jacks.</param>
/// <param name="Pulses">Those that rest at two levels.</param>
/// <param name="Drives">What can move it.</param>
internal sealed record KnownOscillator(Member Member, double Hertz, ImmutableArray<string> Outputs, ImmutableArray<PulseOutput> Pulses, ImmutableArray<Drive> Drives)
{
    /// <summary>What each drive moves.</summary>
    public ImmutableArray<DriveEffect> Effects { get; init; } = [];

    /// <summary>Its name.</summary>
    public string Name => Member.Name;

    /// <summary>Outputs that are no pulses.</summary>
    public ImmutableArray<string> Waves => [.. Outputs.Except(Pulses.Select(pulse => pulse.Label))];

    /// <summary>Pulses and what moves their width.</summary>
    public IEnumerable<(PulseOutput Pulse, Drive Drive)> Widths =>
        from pulse in Pulses
        from effect in Effects
        where effect.MovesWidth(pulse.Label) && !IsDepth(effect.Drive)
        select (pulse, effect.Drive);

    /// <summary>Jacks that move its frequency.</summary>
    public IEnumerable<Drive> Frequencies => Effects.Where(effect => effect.Drive.IsJack && effect.MovesPitch && !Syncs(effect.Drive)).Select(effect => effect.Drive);

    // A control across a jack moves what stands at the jack, and the jack has a sheet of its own.
    private bool IsDepth(Drive drive) => !drive.IsJack && Drives.Any(jack => jack.Owner == drive.Owner && jack.Depth?.Part == drive.Part);

    /// <summary>True of a jack that calls itself a sync input: what it does at rest is no law of frequency.</summary>
    public static bool Syncs(Drive drive) => drive.IsJack && drive.Label.Contains("sync", StringComparison.OrdinalIgnoreCase);

    /// <summary>True of a jack at which pulses are tried: it calls itself a sync input; or what stands there at rest moves
    /// neither the frequency nor a pulse's width, as edges alone would; or it moves the frequency from one of its ends only, as
    /// a threshold does that pulses lower.</summary>
    public bool MaySync(Drive drive) =>
        Syncs(drive) || (drive.IsJack && Effects.Any(effect => ReferenceEquals(effect.Drive, drive) && (effect.MovesPitchOneWay || (!effect.MovesPitch && !Pulses.Any(pulse => effect.MovesWidth(pulse.Label))))));

    /// <summary>Sheets that do not apply, and why.</summary>
    /// <param name="kinds">What was asked for.</param>
    /// <param name="tried">True when there was something to sync to.</param>
    /// <param name="synced">True when it was caught.</param>
    public IEnumerable<AbsentSheet> Absent(ImmutableArray<SheetKind> kinds, bool tried, bool synced)
    {
        if (kinds.Contains(SheetKind.Width) && Pulses.IsEmpty)
            yield return new(SheetKind.Width, "no output rests at two levels");
        else if (kinds.Contains(SheetKind.Width) && !Widths.Any())
            yield return new(SheetKind.Width, "no control and no input of it or of its lead moves the width of a pulse");
        if (kinds.Contains(SheetKind.Frequency) && !Frequencies.Any())
            yield return new(SheetKind.Frequency, "no input of it or of its lead, beside that for the pitch, moves its frequency");
        if (kinds.Contains(SheetKind.Sync) && !synced)
            yield return new(SheetKind.Sync, tried
                ? $"{SyncRange.First:0} cents below what should lead it, it is not caught at any way of its selectors"
                : "it hangs on no oscillator's ribbon and no jack of it calls itself a sync input, leaves pitch and width alone at rest or moves the pitch from one end only");
        if (kinds.Contains(SheetKind.Waves) && Waves.IsEmpty)
            yield return new(SheetKind.Waves, Outputs.IsEmpty ? "it has no output" : "all its outputs are pulses");
        if (kinds.Contains(SheetKind.Levels) && Outputs.IsEmpty)
            yield return new(SheetKind.Levels, "it has no output");
    }
}
