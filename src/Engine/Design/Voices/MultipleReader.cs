using Consort.Engine.Quantities;

namespace Consort.Engine.Design;

/// <summary>Reads a multiple, of a voice or of the shelf.</summary>
internal static class MultipleReader
{
    /// <summary>The multiple; null when it has mistakes.</summary>
    public static Multiple? Read(string name, MapReader map, SourceSpan at)
    {
        int before = map.Errors.Mistakes;
        string? word = map.Word("multiple", "passive", "buffered");
        if (map.Map.Find("multiple") is null)
            map.Errors.Add(ErrorCodes.MissingKey, map.At, $"{name}: 'multiple' is missing", "add 'multiple: passive' or 'multiple: buffered'");
        double ways = map.Need("ways", "ways: 3") is null ? 1 : map.InRange("ways", Dimension.Ratio, 1, 1, 64, whole: true);
        double width = map.InRange("width", Dimension.PanelWidth, 0, 0, 10);
        double offset = map.InRange("offset within", Dimension.Voltage, 0, 0, 1);
        double output = map.InRange("output resistance", Dimension.Resistance, 100, 0, 1e6, bare: true);
        double input = map.InRange("input resistance", Dimension.Resistance, 100e3, 1, 1e15, bare: true);
        map.RefuseTheRest();
        return map.Errors.Mistakes > before ? null : new(name, word == "buffered", (int)ways, width, offset, output, input, at);
    }
}
