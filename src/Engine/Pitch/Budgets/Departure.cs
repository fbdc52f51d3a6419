using Consort.Engine.Circuit.Signal;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Budgets;

/// <summary>One way in which a part departs from the ideal, or may depart from its nominal.</summary>
/// <param name="Part">The part.</param>
/// <param name="Word">The parameter's word.</param>
/// <param name="Target">The parameter that is moved: the same, or the one that a limit is about.</param>
/// <param name="Value">The parameter's value, SI units.</param>
/// <param name="Move">Factor on d(pitch)/d(target) that gives the effect of the departure, to first order.</param>
/// <param name="Cause">The budget's column.</param>
/// <param name="IsLimit">True for what builds may do within tolerance; false for what the nominal circuit does.</param>
internal sealed record Departure(
    Part Part,
    string Word,
    ParameterPlace Target,
    double Value,
    double Move,
    Cause Cause,
    bool IsLimit
);

/// <summary>Lists the departures of a circuit's parts, from the table of kinds.</summary>
internal static class Departures
{
    // What a limit is about: the parameter that it moves, and whether it is a share of it.
    private static readonly Dictionary<string, (string Target, bool IsShare)> Limits = new()
    {
        ["tolerance"] = ("value", true),
        ["offset within"] = ("offset", false),
        ["gradient within"] = ("gradient", false),
        ["gain within"] = ("forward gain", true),
        ["gain match"] = ("forward gain", true),
        ["threshold within"] = ("threshold", false),
    };

    /// <summary>All departures of all parts of a circuit.</summary>
    public static List<Departure> Of(Engine.Circuit.Circuit circuit)
    {
        List<Departure> found = [];
        foreach (Part part in circuit.Design.Parts)
        {
            if (!circuit.Has(part.Name))
                continue;
            Engine.Circuit.PartPlace place = circuit.Find(part.Name);
            if (part.Wiring is { } wiring)
                AddIdeal(found, part, new(place, "value"), "value", part.Number("value"), wiring.Ideal, wiring.Cause);
            foreach (ParameterSpec spec in part.Kind.Parameters)
                if (part.Wiring is null || spec.IsLimit is false)
                    AddParameter(found, part, place, spec);
        }
        return found;
    }

    private static void AddParameter(List<Departure> found, Part part, Engine.Circuit.PartPlace place, ParameterSpec spec)
    {
        if (spec.Cause == Cause.None || !place.Bank.Words.Contains(spec.Word))
            return;
        double value = place.Bank.Numbers(spec.Word)[place.Index];
        if (!spec.IsLimit && (spec.HarmlessAt ?? spec.Ideal) is { } ideal)
            AddIdeal(found, part, new(place, spec.Word), spec.Word, value, ideal, spec.Cause);
        if (!spec.IsLimit || value == 0 || !Limits.TryGetValue(spec.Word, out (string Target, bool IsShare) limit))
            return;
        if (!place.Bank.Words.Contains(limit.Target))
            return;
        double target = place.Bank.Numbers(limit.Target)[place.Index];
        Cause cause = spec.Word == "tolerance" ? part.Kind.ValueCause : spec.Cause;
        found.Add(
            new(part, spec.Word, new(place, limit.Target), value, limit.IsShare ? value * target : value, cause, true)
        );
    }

    private static void AddIdeal(
        List<Departure> found,
        Part part,
        ParameterPlace target,
        string word,
        double value,
        double ideal,
        Cause cause
    )
    {
        if (value == ideal || !double.IsFinite(value) || cause == Cause.None)
            return;
        // Where infinity is ideal the effect goes as 1/p: k/p = -p·d(k/p)/dp.
        double move = double.IsInfinity(ideal) || ideal > 1e9 * Math.Abs(value) || ideal >= 1e12 ? -value : value - ideal;
        found.Add(new(part, word, target, value, move, cause, false));
    }
}
