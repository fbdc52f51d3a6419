using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Scope;

namespace Consort.Engine.Response;

/// <summary>What is to be known, in a person's words.</summary>
/// <param name="Oscillators">Names; empty: the first of each kind of module.</param>
/// <param name="Sheets">Names of sheets; empty: all.</param>
/// <param name="Set">Controls moved, as <c>lead/P4=30%</c>.</param>
/// <param name="Play">A voltage or a key; null: the middle of the keyboard's range.</param>
/// <param name="Swing">Jacks are driven from −swing to +swing, V.</param>
/// <param name="Modulator">Frequency of a modulating sine, Hz; null: a fifth of the pitch played, to two digits.</param>
/// <param name="Kelvins">Temperatures beside the one at which it stands, K; default: those of the voice's limits.</param>
public sealed record ResponseWish(ImmutableArray<string> Oscillators, ImmutableArray<string> Sheets, ImmutableArray<string> Set, string? Play = null, double Swing = ResponseWish.UsualSwing, double? Modulator = null, ImmutableArray<double> Kelvins = default)
{
    /// <summary>Common practice: control voltages of 5 V either way.</summary>
    public const double UsualSwing = 5;

    /// <summary>Words for the sheets.</summary>
    public static ImmutableArray<string> Words { get; } = [.. Enum.GetNames<SheetKind>().Select(name => name.ToLowerInvariant())];

    /// <summary>What is meant by it, or everything that is wrong with its words.</summary>
    public (ResponsePlan? Plan, ImmutableArray<WordFault> Faults) Understand(Voice voice)
    {
        (Voice moved, ImmutableArray<WordFault> unmoved) = ControlMoves.Apply(voice, Set);
        List<WordFault> faults = [.. unmoved];
        (double play, WordFault? unplayed) = PlayedKey.Read(voice, Play);
        if (unplayed is not null)
            faults.Add(unplayed);
        Member[] known = [.. voice.Members.Where(member => member.Module.Pitch is not null && member.Module.Sheet is null)];
        if (known.Length == 0)
            faults.Add(new("the voice has no oscillator whose circuit is known", "give a module's circuit and how its pitch is read"));
        foreach (string name in Oscillators.Where(name => known.All(member => member.Name != name)))
            faults.Add(new($"there is no oscillator '{name}' in the voice", NearName.Mend(name, [.. known.Select(member => member.Name)])));
        foreach (string sheet in Sheets.Where(sheet => !Words.Contains(sheet)))
            faults.Add(new($"there is no sheet '{sheet}'", NearName.Mend(sheet, [.. Words])));
        if (faults.Count > 0)
            return (null, [.. faults]);
        string[] chosen = Oscillators.IsEmpty ? [.. known.GroupBy(member => member.Module.Name).Select(kind => kind.First().Name)] : [.. known.Select(member => member.Name).Where(Oscillators.Contains)];
        SheetKind[] kinds = [.. Enum.GetValues<SheetKind>().Where(kind => Sheets.IsEmpty || Sheets.Contains(Words[(int)kind]))];
        return (new(voice, moved, [.. chosen], [.. kinds], play, Swing, Modulator ?? Fifth(known[0], play), Kelvins.IsDefaultOrEmpty ? [voice.Limits.ColdKelvin, voice.Limits.WarmKelvin] : Kelvins), []);
    }

    private static double Fifth(Member member, double play)
    {
        double fifth = member.Module.Pitch!.IdealHertz(play) / 5;
        double digit = Math.Pow(10, Math.Floor(Math.Log10(fifth)) - 1);
        return digit * Math.Round(fifth / digit);
    }
}

/// <summary>What is to be read.</summary>
/// <param name="Written">The voice as its files have it.</param>
/// <param name="Moved">With its controls moved.</param>
/// <param name="Oscillators">Whose.</param>
/// <param name="Kinds">Which sheets.</param>
/// <param name="Play">On every keyboard, V.</param>
/// <param name="Swing">Jacks are driven from −swing to +swing, V.</param>
/// <param name="Modulator">Frequency of a modulating sine, Hz.</param>
/// <param name="Kelvins">Temperatures beside the one at which it stands, K.</param>
public sealed record ResponsePlan(Voice Written, Voice Moved, ImmutableArray<string> Oscillators, ImmutableArray<SheetKind> Kinds, double Play, double Swing, double Modulator, ImmutableArray<double> Kelvins);
