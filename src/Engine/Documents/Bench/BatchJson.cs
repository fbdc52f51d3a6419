using Consort.Engine.Bench.Batches;

namespace Consort.Engine.Documents.Bench;

/// <summary>A batch of units against the foretold spread as JSON, in the shape that docs/json.md describes.</summary>
public static class BatchJson
{
    /// <summary>Changes when a name is removed or its meaning changes.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(string module, BatchSpread spread) =>
        JsonText.Write(json => json.Text("shape", "consort batch").Number("version", Version).Text("module", module)
            .Texts("serials", spread.Units.Select(unit => unit.Serial))
            .List("figures", spread.Figures, figure => json
                .Text("what", figure.What).Number("foretold", figure.Foretold).Number("measured", figure.Measured)
                .Number("ratio", figure.Ratio).Number("ratioLow", figure.RatioLow).Number("ratioHigh", figure.RatioHigh)
                .Number("mean", figure.Mean).Number("meanWithin", figure.MeanWithin).Number("partsShare", figure.PartsShare)
                .List("causes", figure.Causes, cause => json.Text("what", cause.What).Number("share", cause.Share).Number("factor", cause.Factor))));
}
