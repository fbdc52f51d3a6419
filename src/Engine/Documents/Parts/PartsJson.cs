using Consort.Engine.Orders;

namespace Consort.Engine.Documents.Parts;

/// <summary>A parts order as JSON, in the shape that docs/json.md describes.</summary>
public static class PartsJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(PartsOrder order) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort parts").Number("version", Version).Text("voice", order.Voice).Number("units", order.Units).Text("currency", order.Currency);
            json.List("lines", order.Lines, line => Line(json, line));
            json.List("modules", order.Modules, module =>
                json.Text("module", module.Module).Number("copies", module.Copies).Number("pieces", module.Pieces).Number("cost", (double)module.Cost).Number("unpriced", module.Unpriced));
            json.Number("voiceCost", (double)order.VoiceCost).Number("toBuy", (double)order.ToBuy).Number("unpriced", order.Unpriced);
            json.List("bags", order.Bags, bag =>
                json.Number("bag", bag.Number).Text("module", bag.Module).Number("copies", bag.Copies).Text("step", BuildSteps.Title(bag.Step)).List("items", bag.Items, item =>
                    json.Number("count", item.Count).Text("what", item.What).Text("package", item.Package).Texts("designators", item.Designators)));
            json.Texts("notes", order.Notes);
        });

    private static void Line(JsonText json, OrderLine line)
    {
        json.Text("kind", line.Kind).Text("what", line.What).Text("package", line.Package).Text("step", BuildSteps.Title(line.Step));
        json.Number("perVoice", line.PerVoice).Number("need", line.Need).Number("spares", line.Spares).Number("have", line.Have);
        json.Number("missing", line.Missing).Number("buy", line.Buy).Number("each", (double?)line.Each).Number("cost", (double?)line.Cost);
        json.Text("source", line.Source).Flag("inStock", line.InStock);
        json.List("substitutes", line.Substitutes, other =>
            json.Text("what", other.What).Number("each", (double?)other.Each).Number("have", other.Have).Text("source", other.Source));
        json.List("places", line.Places, place =>
            json.Text("module", place.Module).Number("copies", place.Copies).Number("count", place.Count).Texts("designators", place.Designators));
    }
}
