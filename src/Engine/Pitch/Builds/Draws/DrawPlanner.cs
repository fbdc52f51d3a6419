using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>
/// Makes the plan of a circuit's draws from its parts' limits. What is written on the part counts before what its entry on
/// the shelf says, and that before the kind's default. Both halves of a matched pair share what their die shares (gain,
/// base voltage); the second has the pair's offset, gradient and match. Of an array the members share what its match leaves.
/// </summary>
public sealed class DrawPlanner
{
    // What a limit moves, and how.
    private static readonly Dictionary<string, (string Target, MoveKind Move)> Targets = new()
    {
        ["tolerance"] = ("value", MoveKind.Share),
        ["array match"] = ("value", MoveKind.Share),
        ["drift"] = ("tempco", MoveKind.Added),
        ["array drift match"] = ("tempco", MoveKind.Added),
        ["offset within"] = ("offset", MoveKind.Added),
        ["offset drift within"] = ("offset drift", MoveKind.Added),
        ["gradient within"] = ("gradient", MoveKind.Added),
        ["gain within"] = ("forward gain", MoveKind.Share),
        ["gain match"] = ("forward gain", MoveKind.Share),
        ["threshold within"] = ("threshold", MoveKind.Added),
        ["base voltage within"] = ("saturation current", MoveKind.BaseVoltage),
    };

    private readonly Engine.Circuit.Circuit circuit;
    private readonly Stock stock;
    private readonly List<Variate> variates = [];
    private readonly Dictionary<string, int> byName = [];
    private readonly List<DrawnParameter> parameters = [];

    private DrawPlanner(Engine.Circuit.Circuit circuit, Stock stock) => (this.circuit, this.stock) = (circuit, stock);

    /// <summary>True for a limit whose spread is drawn.</summary>
    public static bool Draws(string limit) => Targets.ContainsKey(limit);

    /// <summary>The plan of a circuit whose parts come from a shelf.</summary>
    public static DrawPlan Plan(Engine.Circuit.Circuit circuit, Stock stock)
    {
        DrawPlanner planner = new(circuit, stock);
        foreach (Part part in circuit.Design.Parts)
            if (part.Wiring is null && part.Kind.Word != "matched pair" && circuit.Has(part.Name))
                planner.Add(part);
        return new([.. planner.variates], [.. planner.parameters]);
    }

    private void Add(Part part)
    {
        PartPlace place = circuit.Find(part.Name);
        Dictionary<string, List<DrawTerm>> terms = [];
        foreach (ParameterSpec spec in Limits(part))
            if (Terms(part, spec.Word, part.Numbers.GetValueOrDefault(spec.Word)) is { Count: > 0 } found)
            {
                string target = Targets[spec.Word].Target;
                if (!terms.TryGetValue(target, out List<DrawTerm>? all))
                    terms[target] = all = [];
                all.AddRange(found);
            }
        foreach ((string target, List<DrawTerm> all) in terms)
        {
            MoveKind move = Targets.Values.First(t => t.Target == target).Move;
            double nominal = place.Bank.Numbers(target)[place.Index];
            // A value of nothing has no share to move.
            if (move == MoveKind.Added || nominal != 0)
                parameters.Add(new(part, place, target, nominal, move, [.. all]));
        }
        if (part.Kind.Word is "n jfet" or "p jfet" && terms.TryGetValue("threshold", out List<DrawTerm>? threshold))
            AddChannel(part, place, threshold);
    }

    // A channel made thinner pinches off sooner and conducts less, both in proportion, so that 1/(2β·|Vp|) at no gate voltage
    // hardly moves: sheets promise that resistance for all thresholds (textbook: Sze, Physics of Semiconductor Devices, JFET
    // chapter, from memory).
    private void AddChannel(Part part, PartPlace place, List<DrawTerm> threshold)
    {
        double nominal = place.Bank.Numbers("threshold")[place.Index];
        double beta = place.Bank.Numbers("transconductance")[place.Index];
        if (nominal != 0)
            parameters.Add(
                new(part, place, "transconductance", beta, MoveKind.InverseShare, [.. threshold.Select(t => t with { HalfWidth = t.HalfWidth / nominal })])
            );
    }

    private static IEnumerable<ParameterSpec> Limits(Part part)
    {
        IEnumerable<ParameterSpec> own = part.Kind.Parameters;
        if (part.Texts.ContainsKey("pair"))
            own = own.Concat(PartKinds.Find("matched pair")!.Parameters);
        return own.Where(spec => spec.IsLimit && Targets.ContainsKey(spec.Word));
    }

    private List<DrawTerm> Terms(Part part, string limit, double width)
    {
        string array = part.Texts.GetValueOrDefault("array") ?? "";
        if (array.Length > 0 && limit is "tolerance" or "drift")
            return InArray(part, array, limit, width);
        if (limit is "array match" or "array drift match")
            return [];
        StockItem? item = stock.Items.FirstOrDefault(item => item.Holds(part));
        if (limit == "tolerance" && item is { Measured.IsEmpty: false } && !part.Written.Contains("spread"))
            return [new(Own(part, limit, new SpreadShape.Measured(item.Measured), item), 1)];
        if (width == 0 || !double.IsFinite(width))
            return [];
        SpreadShape shape = Shape(part, item);
        bool isOfDie = part.Texts.ContainsKey("pair") && limit is "gain within" or "base voltage within";
        return [new(isOfDie ? Shared($"{part.Texts.GetValueOrDefault("pair")} {limit}", shape) : Own(part, limit, shape, item), width)];
    }

    // The common departure and a member's own together reach the tolerance; any two members' own reach the match.
    private List<DrawTerm> InArray(Part part, string array, string limit, double width)
    {
        if (width == 0)
            return [];
        double own = Math.Min(part.Number(limit == "drift" ? "array drift match" : "array match") / 2, width);
        SpreadShape shape = Shape(part, null);
        string owner = part.Name[..(part.Name.LastIndexOf('/') + 1)];
        List<DrawTerm> terms = [new(Shared($"{owner}{array} {limit}", shape), width - own)];
        if (own > 0)
            terms.Add(new(Own(part, $"{limit} within {array}", shape, null), own));
        return terms;
    }

    private int Own(Part part, string what, SpreadShape shape, StockItem? item)
    {
        if (item is not { Reel: > 0 })
            return Shared($"{part.Name} {what}", shape);
        string value = part.Numbers.GetValueOrDefault("value").ToString("G4", CultureInfo.InvariantCulture);
        int reel = Shared($"reel of {part.Kind.Word} {value} {part.Texts.GetValueOrDefault("model")} {what}", new SpreadShape.Reel());
        return Take(new($"{part.Name} {what}", shape, reel, item.Reel));
    }

    private int Shared(string name, SpreadShape shape) => byName.TryGetValue(name, out int known) ? known : Take(new(name, shape));

    private int Take(Variate variate)
    {
        variates.Add(variate);
        return byName[variate.Name] = variates.Count - 1;
    }

    private static SpreadShape Shape(Part part, StockItem? item)
    {
        string spread = part.Written.Contains("spread") ? part.Texts["spread"] : item?.Spread ?? part.Texts["spread"];
        double sigmas = part.Written.Contains("sigmas") ? part.Number("sigmas") : item?.Sigmas ?? part.Number("sigmas");
        return spread == "normal" ? new SpreadShape.Normal(sigmas) : new SpreadShape.Uniform();
    }
}
