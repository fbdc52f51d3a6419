using System.Diagnostics;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Live;

namespace Consort.Bench.Live;

/// <summary>How long an edited voice takes to answer, and how far its first answers lie from what is read afterwards: single
/// resistors and capacitors of an example's modules by up to 2 %, one after the other.</summary>
internal static class LiveStudy
{
    private const int Edits = 200;
    private const int Compared = 24; // of them read again from transients
    private const int Threads = 2;

    public static void Run(Page page, string name)
    {
        string folder = Path.Combine("examples", name);
        Stopwatch clock = Stopwatch.StartNew();
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(folder);
        Console.Error.WriteLine($"first read {clock.Elapsed.TotalMilliseconds:0} ms");
        LiveVoice live = new(Threads) { Pause = 0, Builds = 1000 };
        for (int turn = 0; turn < 3; turn++) // the first one compiles
            live.Answer(voice!, stock!, answer => Console.Error.WriteLine($"{name}: {answer.Kind} {answer.Milliseconds:0} ms, {answer.Spread?.Builds ?? 0} builds: {answer.Sureness}"));
        clock.Restart();
        (voice, stock, _) = VoiceFolder.Read(folder);
        Console.Error.WriteLine($"folder read again {clock.Elapsed.TotalMilliseconds:0} ms");
        List<double> first = [];
        List<double> yields = [];
        List<double> all = [];
        Part[] parts = [.. voice!.Members.Select(m => m.Module).Distinct().SelectMany(m => m.Circuit).Where(part => part.Kind.Word is "resistor" or "capacitor")];
        int unanswered = 0;
        for (int edit = 0; edit < Edits; edit++)
        {
            Part part = parts[edit * 7 % parts.Length];
            Voice edited = With(voice, part, part.Number("value") * (1 + 0.02 * Math.Sin(edit)));
            int told = 0;
            using CancellationTokenSource enough = new();
            try
            {
                live.Answer(
                    edited,
                    stock!,
                    answer =>
                    {
                        if (answer.Kind != AnswerKind.Estimate)
                            enough.Cancel();
                        else
                            (told++ == 0 ? first : told == 2 ? yields : all).Add(answer.Milliseconds);
                        if (told == 3 && edit % (Edits / Compared) != 0)
                            enough.Cancel();
                        if (edit % (Edits / Compared) == 0 && answer.Kind == AnswerKind.Read)
                            Console.Error.WriteLine($"{part.Name} {answer.Milliseconds:0} ms; {answer.Figures[0].Cents:0.000}");
                        else if (edit % (Edits / Compared) == 0 && told == 1)
                            Console.Error.WriteLine($"{answer.Figures[0].Cents:0.000} {answer.Sureness}");
                    },
                    null,
                    enough.Token
                );
            }
            catch (OperationCanceledException)
            {
                // asked for: the next edit
            }
            unanswered += told == 0 ? 1 : 0;
        }
        page.Heading($"Edits of the {name}");
        page.Table(
            ["answer", "median, ms", "95 of 100, ms"],
            [Row("the design", first), Row("512 builds", yields), Row("2048 builds", all)]
        );
        page.Line($"{unanswered} of {Edits} edits could not be answered by the laws last read.");
    }

    private static string[] Row(string what, List<double> times)
    {
        times.Sort();
        return times.Count == 0 ? [what, "", ""] : [what, $"{times[times.Count / 2]:0.0}", $"{times[(int)(0.95 * times.Count)]:0.0}"];
    }

    private static Voice With(Voice voice, Part part, double value) =>
        voice with
        {
            Members =
            [
                .. voice.Members.Select(m =>
                    m.Module.Circuit.Contains(part)
                        ? m with { Module = m.Module with { Circuit = m.Module.Circuit.Replace(part, part with { Numbers = part.Numbers.SetItem("value", value) }) } }
                        : m
                ),
            ],
        };
}
