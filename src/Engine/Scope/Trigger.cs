using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Scope;

/// <summary>Where a sweep begins: a channel going through a level.</summary>
/// <param name="Rising">Direction.</param>
/// <param name="Level">V; null for the middle between the channel's highest and lowest voltage.</param>
/// <param name="Channel">Name of a jack or net; null for the first channel shown.</param>
public sealed record Trigger(bool Rising = true, double? Level = null, string? Channel = null)
{
    private const string Example = "write it as 'falling through 2.5 V on lead/saw core'; 'rising', 'on lead/saw' or 'through 0 V' alone will do";

    /// <summary>Reads <c>rising through 2.5 V on lead/saw core</c>; each of the three may be left out.</summary>
    public static (Trigger? Trigger, WordFault? Fault) Read(string text)
    {
        string rest = $" {text.Trim()} ";
        string? channel = Cut(ref rest, " on ");
        string? level = Cut(ref rest, " through ");
        string direction = rest.Trim();
        if (direction is not ("rising" or "falling" or ""))
            return (null, new($"the trigger '{text}' cannot be understood", Example));
        if (level is null)
            return (new(direction != "falling", null, channel), null);
        return Quantity.TryRead(level, Dimension.Voltage, bare: false, out double volts, out QuantityFault? fault)
            ? (new(direction != "falling", volts, channel), null)
            : (null, new($"the trigger's level: {fault!.What}", fault.Mend));
    }

    private static string? Cut(ref string text, string word)
    {
        int at = text.IndexOf(word, StringComparison.Ordinal);
        if (at < 0)
            return null;
        string behind = text[(at + word.Length)..].Trim();
        text = text[..at] + " ";
        return behind.Length > 0 ? behind : null;
    }
}
