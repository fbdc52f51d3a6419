using System.Globalization;
using System.Text.Json.Nodes;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace Consort.Tests.Design.Schema;

/// <summary>A YAML text as an editor's schema check sees it: plain scalars that look like numbers are numbers (YAML 1.2
/// core schema), all others are text.</summary>
internal static class YamlAsJson
{
    public static string Convert(string yaml)
    {
        YamlStream stream = [];
        stream.Load(new StringReader(yaml));
        return Of(stream.Documents[0].RootNode)!.ToJsonString();
    }

    private static JsonNode? Of(YamlNode node) =>
        node switch
        {
            YamlMappingNode map => new JsonObject(
                map.Children.Select(pair => KeyValuePair.Create(((YamlScalarNode)pair.Key).Value!, Of(pair.Value)))
            ),
            YamlSequenceNode list => new JsonArray([.. list.Children.Select(Of)]),
            YamlScalarNode { Style: ScalarStyle.Plain } scalar
                when double.TryParse(scalar.Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) => number,
            YamlScalarNode scalar => scalar.Value,
            _ => throw new NotSupportedException(node.GetType().Name),
        };
}
