using System.Globalization;

namespace Consort.Engine.Planning;

/// <summary>Says in a sentence what tells one way of wiring from the others.</summary>
internal static class Difference
{
    /// <summary>The sentence.</summary>
    public static string Sentence(Alternative one, IReadOnlyCollection<Alternative> all)
    {
        List<string> parts = [];
        double widest = all.Max(other => other.WidthMetres);
        if (one.WidthMetres < widest - 1e-6)
            parts.Add($"{1e3 * (widest - one.WidthMetres):0} mm narrower than the widest");
        if (one.Cords == all.Min(other => other.Cords) && all.Any(other => other.Cords > one.Cords))
            parts.Add($"fewest cords ({one.Cords} against up to {all.Max(other => other.Cords)})");
        if (one.Multiples == 0 && all.Any(other => other.Multiples > 0))
            parts.Add("no multiples");
        decimal least = all.Min(other => other.Price);
        if (one.Price > least)
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"dearer than the cheapest by {one.Price - least:0.00}"));
        else if (all.Any(other => other.Price > least))
            parts.Add("cheapest");
        if (one.FreeInputsLost > 0)
            parts.Add($"{one.FreeInputsLost} free inputs fewer");
        parts.Add(Pitch(one, all));
        if (one.Pitch.TrackingCents > one.Voice.Limits.TrackingCents)
            parts.Add($"even trimmed it is {one.Pitch.TrackingCents:0.0} cents off, and {one.Voice.Limits.TrackingCents:0.##} are asked: the trimmers do not reach, or the circuit does not track");
        parts.AddRange(one.Unmet);
        parts.AddRange(one.Extra);
        string text = string.Join("; ", parts);
        return string.Create(CultureInfo.InvariantCulture, $"{char.ToUpperInvariant(text[0])}{text[1..]}.");
    }

    private static string Pitch(Alternative one, IReadOnlyCollection<Alternative> all)
    {
        double moved = Math.Abs(one.Pitch.MovedCents);
        string size = string.Create(CultureInfo.InvariantCulture, $"{(moved < 0.1 ? moved.ToString("0.000", CultureInfo.InvariantCulture) : moved.ToString("0.0", CultureInfo.InvariantCulture))}");
        return moved <= all.Min(other => Math.Abs(other.Pitch.MovedCents)) + 1e-9 ? $"wiring moves pitch least ({size} cents)"
            : $"wiring moves pitch by up to {size} cents{(moved > 1 ? ", which the trims take back only while no cord is moved" : "")}";
    }
}
