using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Live;

namespace Consort.Bench.Live;

/// <summary>How long an edited voice takes to answer, and how far its first answers lie from what is read afterwards: single
/// resistors and capacitors of an example's modules moved by up to 2 %, one after the other, each from the design as it is.</summary>
internal sealed class LiveStudy : IDisposable
{
    private const int Edits = 200;
    private const int ReadEvery = 10; // every tenth is read from transients as well
    private const int Threads = 2;

    private readonly Voice voice;
    private readonly Stock stock;
    private readonly LiveVoice live = new(Threads) { Pause = 0, Builds = 1000 };
    private readonly List<double>[] estimates = [[], [], []]; // design, first builds, more builds: ms
    private readonly List<double> readings = []; // ms
    private int unanswered;

    private LiveStudy(string folder)
    {
        (Voice? read, Stock? shelf, _) = VoiceFolder.Read(folder);
        (voice, stock) = (read!, shelf!);
    }

    public static void Run(Page page, string name)
    {
        using LiveStudy study = new(Path.Combine("examples", name));
        string last = study.Run();
        page.Heading($"Edits of the {name}");
        page.Line("From an edited design that was read without error to its answers; the laws are those of the design before the edit.");
        page.Table(
            ["answer", "times", "median, ms", "95 of 100, ms"],
            [
                Row("estimate of the design", study.estimates[0]),
                Row("estimate with 512 builds", study.estimates[1]),
                Row("estimate with 2048 builds", study.estimates[2]),
                Row("read from transients, with its budget", study.readings),
            ]
        );
        page.Line($"{study.unanswered} of {Edits} edits could not be answered by the laws. The next would be told: {last}.");
        page.Line();
    }

    /// <inheritdoc/>
    public void Dispose() => live.Dispose();

    private string Run()
    {
        string last = "";
        live.Answer(voice, stock, _ => { }); // compiles, and learns the laws
        Part[] parts = [.. voice.Members.Select(m => m.Module).Distinct().SelectMany(m => m.Circuit).Where(part => part.Kind.Word is "resistor" or "capacitor")];
        for (int edit = 0; edit < Edits; edit++)
            Ask(With(parts[edit * 7 % parts.Length], 1 + 0.02 * Math.Sin(edit)), edit % ReadEvery == 0);
        Ask(voice, false, answer => last = answer.Sureness);
        return last;
    }

    private void Ask(Voice edited, bool isRead, Action<LiveAnswer>? also = null)
    {
        using CancellationTokenSource enough = new();
        int told = 0;
        try
        {
            live.Answer(edited, stock, Take, null, enough.Token);
        }
        catch (OperationCanceledException)
        {
            unanswered += told == 0 ? 1 : 0; // asked for: the next edit
        }

        void Take(LiveAnswer answer)
        {
            also?.Invoke(answer);
            bool isEstimate = answer.Kind == AnswerKind.Estimate;
            (isEstimate ? estimates[told++] : readings).Add(answer.Milliseconds);
            if (isEstimate ? told == estimates.Length && !isRead : true)
                enough.Cancel();
        }
    }

    private static string[] Row(string what, List<double> times)
    {
        times.Sort();
        string At(double share) => times[(int)(share * (times.Count - 1))].ToString("0", CultureInfo.InvariantCulture);
        return times.Count == 0 ? [what, "0", "", ""] : [what, $"{times.Count}", At(0.5), At(0.95)];
    }

    private Voice With(Part part, double factor)
    {
        Module module = voice.Members.Select(m => m.Module).First(m => m.Circuit.Contains(part));
        return voice.With(module, module.With("value", new Dictionary<string, double> { [part.Name] = factor * part.Number("value") }));
    }
}
