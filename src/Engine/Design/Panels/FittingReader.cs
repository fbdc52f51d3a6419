using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads the forms of panel parts: the usual ones, and those that a panel states itself.</summary>
internal sealed class FittingReader
{
    private readonly Dictionary<string, Fitting> own = [];

    /// <summary>Reads the panel's <c>fittings</c>; there may be none.</summary>
    public FittingReader(MapReader? map)
    {
        foreach (YamlEntry entry in map?.Map.Entries ?? [])
            if (map!.MapOf(entry) is { } inner)
                own[entry.Key] = Read(entry.Key, new(inner, entry.Key, map.Errors));
    }

    /// <summary>The form of a place: the one that it names, else the usual one of its kind; its own knob counts first.
    /// Null, with an error, when it names none that is known.</summary>
    public Fitting? Of(MapReader place, string? kind)
    {
        YamlText? word = place.Take("fits") is { } entry ? place.TextOf(entry) : null;
        double? knob = place.Map.Find("knob") is null ? null : place.InRange("knob", Dimension.Length, 0, 0, 0.2);
        place.Take("knob");
        Fitting? fitting = word is null ? (kind is null ? null : Fittings.Usual(kind)) : Named(word.Value);
        if (word is not null && fitting is null)
            place.Errors.Add(ErrorCodes.UnknownFitting, word.At, $"{place.Who}: no fitting is called {ErrorList.Quote(word.Value)}",
                NearName.Mend(word.Value, [.. Fittings.All.Select(known => known.Fitting.Word), .. own.Keys]));
        return fitting is { } found && knob is { } wide ? WithKnob(found, wide) : fitting;
    }

    // Fingers need as much room around the other knob as around the usual one.
    private static Fitting WithKnob(Fitting fitting, double knob) => fitting with { Knob = knob, Hand = Math.Max(fitting.Hand - fitting.Knob + knob, knob) };

    private Fitting? Named(string word) =>
        own.GetValueOrDefault(word) ?? Fittings.All.FirstOrDefault(known => known.Fitting.Word == word).Fitting;

    private Fitting Read(string word, MapReader map)
    {
        Fitting? like = null;
        if (map.Take("like") is { } entry && map.TextOf(entry) is { } text && (like = Named(text.Value)) is null)
            map.Errors.Add(ErrorCodes.UnknownFitting, text.At, $"{word}: no fitting is called {ErrorList.Quote(text.Value)}",
                NearName.Mend(text.Value, [.. Fittings.All.Select(known => known.Fitting.Word), .. own.Keys]));
        if (map.Map.Find("like") is null)
            map.Need("hole", "hole: 7.2 mm");
        double hole = Length("hole", like?.Hole ?? 6e-3);
        Fitting fitting = new(
            word,
            hole,
            Length("nut", like?.Nut ?? 0),
            Length("knob", like?.Knob ?? 0),
            Length("hand", like?.Hand ?? hole),
            Length("body width", like?.BodyWidth ?? hole),
            Length("body height", like?.BodyHeight ?? hole),
            Length("depth", like?.Depth ?? 0)
        );
        map.RefuseTheRest();
        return fitting with { Hand = Math.Max(fitting.Hand, fitting.Solid) };

        double Length(string key, double fallback) => map.InRange(key, Dimension.Length, fallback, 0, 0.5);
    }
}
