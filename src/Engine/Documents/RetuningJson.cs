using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Retuning;

namespace Consort.Engine.Documents;

/// <summary>Chosen values as JSON, in the shape that docs/json.md describes.</summary>
public static class RetuningJson
{
    /// <summary>Changes when a name is removed or its meaning changes; a name that is added does not change it.</summary>
    public const int Version = 1;

    /// <summary>The document.</summary>
    public static string Write(string voice, Retuning found) =>
        JsonText.Write(json =>
        {
            json.Text("shape", "consort retuning").Number("version", Version).Text("voice", voice).Number("setsTried", found.Tried);
            json.List("values", found.Values, value =>
                json.Text("file", value.File)
                    .Text("part", value.Part.Name)
                    .Text("series", value.Series)
                    .Number("before", value.Before)
                    .Number("after", value.After));
            json.List("oscillators", found.Oscillators, oscillator =>
            {
                json.Text("oscillator", oscillator.Oscillator);
                json.Number("trackingCentsBefore", oscillator.TrackingBefore).Number("trackingCentsAfter", oscillator.TrackingAfter);
                json.List("trimmers", oscillator.Before.Zip(oscillator.After), pair => Trimmer(json, pair.First, pair.Second));
            });
        });

    private static void Trimmer(JsonText json, TrimResult before, TrimResult after) =>
        json.Text("trimmer", before.Trimmer)
            .Text("purpose", ReportTrims.Word(before.Purpose))
            .Number("before", before.Position)
            .Number("after", after.Position)
            .Flag("reached", after.Reached);
}
