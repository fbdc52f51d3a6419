using Consort.Engine.Documents.Files;
using Consort.Engine.Planning;

namespace Consort.Engine.Documents.Plans;

/// <summary>All pictures of a plan.</summary>
public static class PlanPictures
{
    /// <summary>Two for each way: its connections, and its rows of panels.</summary>
    public static IEnumerable<(string Name, string Content)> Of(WiringPlan plan)
    {
        for (int i = 0; i < plan.Alternatives.Length; i++)
        {
            Alternative one = plan.Alternatives[i];
            yield return ($"connections-{i + 1}.svg", SvgArt.Write(ConnectionChart.Draw(one.Voice, $"{i + 1}. {one.Name}")));
            yield return ($"row-{i + 1}.svg", SvgArt.Write(RowPicture.Draw(one.Voice, one.Places, $"{i + 1}. {one.Name}")));
        }
    }
}
