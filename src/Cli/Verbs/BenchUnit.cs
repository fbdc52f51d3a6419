using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;

namespace Consort.Cli.Verbs;

/// <summary>The beginning that verbs at the bench share: the folder, the unit's place in it, its readings.</summary>
internal static class BenchUnit
{
    /// <summary>All three, or null when anything was wrong; then it has been told.</summary>
    public static (Voice Voice, UnitPlace Place, ReadingSet Set)? Read(Screen screen, ReadVoice read, string verb, BenchInput.Asked asked)
    {
        if (Place(screen, read, verb, asked.Folder, asked.Unit, asked.Member) is not { } found)
            return null;
        string[] trimmers = [.. found.Place.Member.Module.Trims.Select(step => step.Trimmer)];
        if (asked.Options.Stands?.Keys.FirstOrDefault(name => !trimmers.Contains(name)) is { } stranger)
        {
            screen.Complain($"consort {verb}: {ErrorList.Quote(stranger)} is no trimmer of module {found.Place.Unit.Module}\n  mend: {NearName.Mend(stranger, trimmers)}");
            return null;
        }
        (ReadingSet? set, ImmutableArray<InputError> errors) = Sitting.Read(found.Place.Unit, found.Place.Law, asked.Files, asked.Options, trimmers);
        screen.Complain(errors);
        return set is null ? null : (found.Voice, found.Place, set);
    }

    /// <summary>The folder and the unit's place in it, or null.</summary>
    public static (Voice Voice, UnitPlace Place)? Place(Screen screen, ReadVoice read, string verb, string folder, string unit, string? member)
    {
        (Voice? voice, ImmutableArray<InputError> errors) = read(folder);
        screen.Complain(errors);
        if (voice is null)
            return null;
        (UnitPlace? place, string? what, string? mend) = UnitPlace.Find(voice, unit, member);
        if (place is null)
            screen.Complain($"consort {verb}: {what}\n  mend: {mend}");
        return place is null ? null : (voice, place);
    }
}
