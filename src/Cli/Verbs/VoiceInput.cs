using System.Collections.Immutable;
using System.CommandLine;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Cli.Verbs;

/// <summary>What verbs that play a voice share: its folder, lists of words, quantities.</summary>
internal static class VoiceInput
{
    /// <summary>Reads a folder.</summary>
    public static (Voice? Voice, ImmutableArray<InputError> Errors) ReadFolder(string folder)
    {
        (Voice? voice, _, ImmutableArray<InputError> errors) = DesignFolder.Read(folder);
        return (voice, errors);
    }

    /// <summary>An option that takes words with commas between and may be given more than once.</summary>
    public static Option<string[]> Words(string name, string word, string description) =>
        new(name) { Description = description, HelpName = word, DefaultValueFactory = _ => [], Arity = ArgumentArity.OneOrMore, AllowMultipleArgumentsPerToken = false };

    /// <summary>The words of all that was given.</summary>
    public static ImmutableArray<string> Split(string[]? given) =>
        [.. (given ?? []).SelectMany(list => WordList.Of(list))];

    /// <summary>An option that takes a quantity with its unit.</summary>
    /// <param name="mend">Null when the value may be taken; else what is wrong with it.</param>
    public static Option<double?> Value(string name, string word, Dimension dimension, string description, Func<double, string?> mend, bool bare = false) =>
        new(name)
        {
            Description = description,
            HelpName = word,
            CustomParser = result =>
            {
                string text = result.Tokens[0].Value;
                if (!Quantity.TryRead(text, dimension, bare, out double value, out QuantityFault? fault))
                    result.AddError($"{name}: {fault!.What}; {fault.Mend}");
                else if (mend(value) is { } wrong)
                    result.AddError($"{name}: '{text}' {wrong}");
                return value;
            },
        };

    /// <summary>What the keyboard plays.</summary>
    public static Option<string?> Play() =>
        new("--play") { Description = "Voltage on the keyboard, as \"3 V\", or a key, as A4; left out: the middle of its range.", HelpName = "V" };

    /// <summary>The temperature of the voice.</summary>
    public static Option<double?> OfAllParts() =>
        Value("--temperature", "T", Dimension.Temperature, "Of all parts, as \"35 °C\"; left out: 25 °C, where it is trimmed.", Temperature);

    /// <summary>Leaves trimmers alone.</summary>
    public static Option<bool> Untrimmed() => new("--untrimmed") { Description = "Leave all trimmers where the files have them." };

    /// <summary>Says everything that is wrong with a call's words.</summary>
    public static void Complain(Screen screen, string verb, IEnumerable<WordFault> faults)
    {
        foreach (WordFault fault in faults)
            screen.Complain($"consort {verb}: {fault.What}\n  mend: {fault.Mend}");
    }

    /// <summary>A check for <see cref="Value"/>.</summary>
    public static string? AboveZero(double value) => value > 0 ? null : "must be above zero";

    /// <summary>A check for <see cref="Value"/>.</summary>
    public static string? NotNegative(double value) => value >= 0 ? null : "cannot be negative";

    /// <summary>A check for <see cref="Value"/>.</summary>
    public static string? Temperature(double kelvin) =>
        kelvin is >= 173 and <= 473 ? null : "is outside -100 °C to 200 °C, where the part models hold";
}
