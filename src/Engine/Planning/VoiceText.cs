using System.Globalization;
using System.Text;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Planning;

/// <summary>Writes a planned voice as <c>voice.yaml</c>, to be read, proved and built as any other.</summary>
public static class VoiceText
{
    /// <summary>The file.</summary>
    public static string Write(Alternative alternative)
    {
        Voice voice = alternative.Voice;
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"voice: {Word(voice.Name)}\nabout: {Word(alternative.Name)}\n{Limits(voice.Limits)}supply:\n  rails:\n");
        foreach (Rail rail in voice.Supply.Rails)
            text.Append(CultureInfo.InvariantCulture, $"    {Word(rail.Name)}: {{voltage: {N(rail.Voltage)} V, source resistance: {N(rail.SourceResistance)}, tempco: {N(1e6 * rail.Tempco)} ppm/K, limit: {N(rail.Limit)} A}}\n");
        text.Append(CultureInfo.InvariantCulture, $"  slot resistance: {N(voice.Supply.SlotResistance)}\n  ground slot resistance: {N(voice.Supply.GroundSlotResistance)}\nmodules:\n");
        foreach (Member member in voice.Members)
            text.Append(CultureInfo.InvariantCulture, $"  {Word(member.Name)}: {{module: {Word(Path.GetFileNameWithoutExtension(member.Module.At.File))}{Stands(member)}{Set(member)}}}\n");
        text.Append("players:\n");
        foreach (Player player in voice.Players)
            text.Append(CultureInfo.InvariantCulture, $"  {Word(player.Name)}: {{plays: {(player.IsPitch ? "pitch" : "fixed")}, resistance: {N(player.Resistance)}, from: {N(player.Low)} V, to: {N(player.High)} V, at: {N(player.At)} V}}\n");
        if (!voice.Multiples.IsEmpty)
            text.Append("multiples:\n");
        foreach (Multiple multiple in voice.Multiples)
            text.Append(CultureInfo.InvariantCulture, $"  {Word(multiple.Name)}: {{multiple: {(multiple.Buffered ? "buffered" : "passive")}, ways: {multiple.Ways}, width: {N(1e3 * multiple.Width)} mm{(multiple.Buffered ? $", offset within: {N(multiple.OffsetWithin)} V, output resistance: {N(multiple.OutputResistance)}, input resistance: {N(multiple.InputResistance)}" : "")}}}\n");
        text.Append("cords:\n");
        foreach (Cord cord in voice.Cords)
            text.Append(CultureInfo.InvariantCulture, $"  - {{from: {Word($"{cord.From}")}, to: {Word($"{cord.To}")}, length: {N(100 * cord.Length)} cm}}\n");
        if (!voice.Ribbons.IsEmpty)
            text.Append("ribbons:\n");
        foreach (Ribbon ribbon in voice.Ribbons)
            text.Append(CultureInfo.InvariantCulture, $"  - {{from: {Word($"{ribbon.From}")}, to: [{string.Join(", ", ribbon.To.Select(to => Word($"{to}")))}], length: {N(100 * ribbon.Length)} cm, gauge: {N(ribbon.Gauge)}}}\n");
        return text.ToString();
    }

    private static string Limits(Limits limits) =>
        string.Create(CultureInfo.InvariantCulture, $"limits: {{tracking: {N(limits.TrackingCents)} cents, octaves: {N(limits.Octaves)}, from: {N(limits.LowestVoltage)} V, drift: {N(limits.DriftCents)} cents, ")
        + $"temperatures: [{N(limits.ColdKelvin - 273.15)} °C, {N(limits.WarmKelvin - 273.15)} °C], follower error: {N(limits.FollowerCents)} cents}}\n";

    private static string Stands(Member member) => member.StandsCents == 0 ? "" : $", stands: {N(member.StandsCents)} cents";

    private static string Set(Member member) =>
        member.Set.IsEmpty ? "" : $", set: {{{string.Join(", ", member.Set.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key}: {N(pair.Value)}"))}}}";

    private static string N(double value) => QuantityText.Digits(value, 12);

    private static string Word(string text) => text.Any(c => ",[]{}:#".Contains(c, StringComparison.Ordinal)) || text.Length == 0 || !char.IsAsciiLetterOrDigit(text[0]) ? $"\"{text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"" : text;
}
