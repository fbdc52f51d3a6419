using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Sound.Playing;

/// <summary>One strip of the mixer.</summary>
/// <param name="Oscillator">The oscillator's name.</param>
/// <param name="Output">The label of its jack.</param>
/// <param name="Gain">Its level, as a ratio.</param>
/// <param name="Place">−1 left, 0 middle, 1 right; equal power.</param>
/// <param name="MovedCents">Interval by which it is moved from where it stands in the voice.</param>
public sealed record Strip(string Oscillator, string Output, double Gain, double Place, double MovedCents)
{
    /// <summary>Its jack.</summary>
    public string Jack => $"{Oscillator}/{Output}";

    /// <summary>Gains to the left and to the right.</summary>
    public (double Left, double Right) Sides
    {
        get
        {
            double angle = (Place + 1) * Math.PI / 4;
            return (Gain * Math.Cos(angle), Gain * Math.Sin(angle));
        }
    }

    /// <summary>The mixer from its words: <c>lead/saw=-3 dB</c>, <c>lead/saw=-50%</c> or <c>lead=-50%</c>, <c>second=+7 cents</c>. With no
    /// strips named: every oscillator's first output, all in the middle but for two or more, which spread.</summary>
    public static (ImmutableArray<Strip> Strips, ImmutableArray<WordFault> Faults) Mixer(
        Voice voice,
        IReadOnlyList<string> mix,
        IReadOnlyList<string> places,
        IReadOnlyList<string> stands
    )
    {
        List<WordFault> faults = [];
        List<Strip> strips = [];
        foreach (string text in mix.Count > 0 ? mix : Channel.FirstOutputs(voice))
            if (Named(voice, text, faults) is { } strip)
                strips.Add(strip);
        if (mix.Count == 0 && places.Count == 0 && strips.Count > 1)
            strips = [.. strips.Select((strip, i) => strip with { Place = 0.7 * (2.0 * i / (strips.Count - 1) - 1) })];
        Apply(strips, places, Dimension.Ratio, (strip, value) => strip with { Place = value }, value => value is >= -1 and <= 1,
            "a place is -100% (left) to 100% (right)", faults);
        Apply(strips, stands, Dimension.Interval, (strip, value) => strip with { MovedCents = value }, value => Math.Abs(value) <= 12_000,
            "an interval is a few cents to ten octaves, as \"+7 cents\"", faults);
        if (strips.Count == 0 && faults.Count == 0)
            faults.Add(new("the voice has no oscillator with an output jack", "name jacks with --mix"));
        return ([.. strips], [.. faults]);
    }

    private static Strip? Named(Voice voice, string text, List<WordFault> faults)
    {
        int split = text.IndexOf('=', StringComparison.Ordinal);
        string jack = (split < 0 ? text : text[..split]).Trim();
        string level = split < 0 ? "0 dB" : text[(split + 1)..].Trim();
        string[] names = jack.Split('/', 2);
        Member? member = voice.Members.FirstOrDefault(member => member.Name == names[0] && member.Module.Pitch is not null && member.Module.Sheet is null);
        ImmutableArray<string> outputs = member is null ? [] : Channel.Outputs(member.Module);
        string[] known = [.. voice.Members.Where(m => m.Module.Pitch is not null && m.Module.Sheet is null).SelectMany(m => Channel.Outputs(m.Module).Select(label => $"{m.Name}/{label}"))];
        if (names.Length < 2 || !outputs.Contains(names[1]))
            faults.Add(new($"'{jack}' is no output of an oscillator", NearName.Of(jack, known) is { } near ? $"did you mean '{near}'?" : $"one of {string.Join(", ", known)}"));
        else if (!level.EndsWith("dB", StringComparison.Ordinal) || !Quantity.TryRead(level, Dimension.Ratio, bare: true, out double gain, out _) || gain > Decibels.Ratio(40))
            faults.Add(new($"{jack}: '{level}' is no level", "write it in decibel, as -6 dB"));
        else
            return new(names[0], names[1], gain, 0, 0);
        return null;
    }

    private static void Apply(
        List<Strip> strips,
        IReadOnlyList<string> texts,
        Dimension dimension,
        Func<Strip, double, Strip> set,
        Func<double, bool> isSensible,
        string mend,
        List<WordFault> faults
    )
    {
        foreach (string text in texts)
        {
            int split = text.IndexOf('=', StringComparison.Ordinal);
            string name = (split < 0 ? text : text[..split]).Trim();
            int[] meant = [.. Enumerable.Range(0, strips.Count).Where(i => strips[i].Oscillator == name || strips[i].Jack == name)];
            if (meant.Length == 0)
                faults.Add(new($"'{name}' is no strip of the mixer", $"one of {string.Join(", ", strips.Select(strip => strip.Oscillator).Distinct())}"));
            else if (split < 0 || !Quantity.TryRead(text[(split + 1)..].Trim(), dimension, bare: false, out double value, out _) || !isSensible(value))
                faults.Add(new($"'{text.Trim()}' cannot be understood", mend));
            else
                foreach (int i in meant)
                    strips[i] = set(strips[i], value);
        }
    }
}
