using System.Collections.Immutable;
using System.Text;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

/// <summary>Files with random damage: each is read or refused in words, never a crash or a hang.</summary>
public sealed class MutatedFilesTests
{
    private const int Files = 1000;

    private static readonly string[] Tokens =
    [
        "{", "}", "[", "]", ":", ",", "#", "- ", "? ", "&a ", "*a", "!!x ", "|", ">", "\"", "'", "\\", "\t", "\r", "\0", "\uFEFF", "\u2028",
        "%YAML 1.2\n", "---\n", "...\n", "~", "null", "<<: ", "open", "0 V", "ideal", "resistor", "matched pair", "selector", "4k7k",
        "1e999", "-1", "infinite", "[[[[[[[[", "((((((((", "^^", "\u00B5", "\uD83D\uDE00", "\uD800", "NaN",
    ];

    [Fact(Timeout = 120_000)] // a hang, not slowness: the whole takes some seconds
    public Task A_thousand_damaged_files_are_read_or_refused_in_words() =>
        Task.Run(() =>
        {
            for (int seed = 1; seed <= Files; seed++)
                Check(seed);
        }, TestContext.Current.CancellationToken);

    private static void Check(int seed)
    {
        Random random = new(seed);
        (string name, string text) = ExampleCircuits.Files[random.Next(ExampleCircuits.Files.Count)];
        byte[] damaged = Damage(text, random);
        try
        {
            ErrorList errors = new();
            if (SourceText.Decode(damaged, name, errors) is not { } source)
                Assert.NotEqual(0, errors.Count);
            else if (source.Text.Contains("module:", StringComparison.Ordinal))
                CheckModule(source);
            else
                CheckCircuit(source);
        }
        catch (Exception e) when (e is not Xunit.Sdk.IAssertionException)
        {
            Assert.Fail($"seed {seed}, {name}: {e}");
        }
    }

    private static void CheckModule(SourceText source)
    {
        ErrorList errors = new();
        Module? module = ModuleReader.Read(source, ExampleCircuits.Library, errors);
        Assert.Equal(module is null, errors.Count > 0);
        CheckPlaces(source, errors.InOrder());
    }

    private static void CheckCircuit(SourceText source)
    {
        (CircuitDesign? design, ImmutableArray<InputError> errors) = CircuitFile.Parse(source.Text, source.File, ExampleCircuits.Library);
        Assert.Equal(design is null, errors.Length > 0);
        CheckPlaces(source, errors);
    }

    private static void CheckPlaces(SourceText source, ImmutableArray<InputError> errors)
    {
        foreach (InputError error in errors)
        {
            Assert.InRange(error.At.Line, 1, source.LineCount);
            Assert.InRange(error.At.Column, 1, source.Line(error.At.Line).Length + 1);
            Assert.DoesNotContain(error.Render(), c => char.IsControl(c) && c != '\n');
            Assert.NotEmpty(error.Mend);
        }
    }

    private static byte[] Damage(string text, Random random)
    {
        StringBuilder changed = new(text);
        for (int i = random.Next(1, 6); i > 0; i--)
            DamageOnce(changed, random);
        byte[] bytes = Encoding.UTF8.GetBytes(changed.ToString());
        if (random.Next(4) == 0 && bytes.Length > 0)
            bytes[random.Next(bytes.Length)] ^= (byte)(1 << random.Next(8));
        return bytes;
    }

    private static void DamageOnce(StringBuilder text, Random random)
    {
        int at = random.Next(text.Length + 1);
        int length = Math.Min(random.Next(1, 40), text.Length - at);
        switch (random.Next(7))
        {
            case 0:
                text.Remove(at, length);
                break;
            case 1:
                text.Insert(at, Tokens[random.Next(Tokens.Length)]);
                break;
            case 2:
                text.Remove(at, length).Insert(at, Tokens[random.Next(Tokens.Length)]);
                break;
            case 3: // a piece of the file elsewhere
                text.Insert(random.Next(text.Length + 1), text.ToString(at, length));
                break;
            case 4: // the file ends early
                text.Length = at;
                break;
            case 5: // a line twice
                string all = text.ToString();
                int start = at == 0 ? 0 : all.LastIndexOf('\n', at - 1) + 1;
                int end = all.IndexOf('\n', Math.Min(at, Math.Max(0, all.Length - 1)));
                if (end > start)
                    text.Insert(start, all[start..(end + 1)]);
                break;
            default: // one character changed
                if (at < text.Length)
                    text[at] = (char)random.Next(32, 127);
                break;
        }
    }
}
