using System.Collections.Immutable;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design.Voices;

public sealed class MutationTests
{
    private static readonly string[] Scraps =
    [
        "{", "}", "[", "]", ":", ",", "'", "\"", "-", "#", "&a ", "*a", "!x ", "|", ">", "\t", "\n", "  ", "/", "0 V", "+12 V",
        "1e999", "-1", "%", "NaN", "infinite", "open", "µ", "Ω", "lead", "link", "pitch", "from", "to", "null", "~", "\0", "é", "---\n",
    ];

    [Fact]
    public void A_thousand_mutated_folders_end_in_a_voice_or_in_errors_with_places()
    {
        using Folder folder = new();
        Assert.NotNull(folder.Read().Voice);
        for (int seed = 1; seed <= 1000; seed++)
        {
            Random random = new(seed);
            string file = Folder.Names[random.Next(Folder.Names.Length)];
            string text = Mutate(folder[file], random);
            string? fault = FaultOf(folder, file, text);
            Assert.True(fault is null, $"seed {seed}, {file}: {fault}\n{text}");
        }
    }

    private static string? FaultOf(Folder folder, string file, string text)
    {
        try
        {
            (Voice? voice, _, ImmutableArray<InputError> errors) = folder.ReadWith(file, text);
            if (voice is null == errors.All(error => error.IsNote))
                return voice is null ? "neither a voice nor an error" : "a voice in spite of errors";
            if (errors.Any(error => error.Render().Length == 0))
                return "an error without words";
            return voice is not null && VoiceCircuit.Build(voice).Parts.IsEmpty ? "a voice without parts" : null;
        }
        catch (Exception e)
        {
            return e.ToString(); // whatever is thrown is the finding
        }
    }

    private static string Mutate(string text, Random random)
    {
        for (int i = random.Next(1, 4); i > 0; i--)
        {
            int at = random.Next(text.Length);
            int length = Math.Min(random.Next(1, 12), text.Length - at);
            string scrap = Scraps[random.Next(Scraps.Length)];
            text = random.Next(5) switch
            {
                0 => text.Remove(at, length),
                1 => text.Insert(at, scrap),
                2 => text.Remove(at, length).Insert(at, scrap),
                3 => text.Insert(random.Next(text.Length), text.Substring(at, length)),
                _ => WithoutALine(text, random),
            };
        }
        return text;
    }

    private static string WithoutALine(string text, Random random)
    {
        List<string> lines = [.. text.Split('\n')];
        lines.RemoveAt(random.Next(lines.Count));
        return string.Join('\n', lines) + " ";
    }
}
