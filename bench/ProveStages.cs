using System.Diagnostics;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Bench;

/// <summary>Where a proof's time goes, by stage.</summary>
internal static class ProveStages
{
    public static void Run(string folder, int threads)
    {
        Stopwatch whole = Stopwatch.StartNew();
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(folder);
        Log log = new(whole);
        log.Report(("read", 0));
        _ = new Prover(threads) { Spread = new(stock!) }.Run(voice!, log);
        log.Report(("done", 1));
    }

    private sealed class Log(Stopwatch whole) : IProgress<(string Stage, double Done)>
    {
        public void Report((string Stage, double Done) value) =>
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{whole.Elapsed.TotalSeconds,7:F2} s  {value.Stage}"));
    }
}
