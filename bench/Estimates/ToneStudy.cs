using System.Globalization;
using Consort.Tests.Measuring.Tones;

namespace Consort.Bench.Estimates;

/// <summary>The frequency estimator's scatter over the Cramér-Rao bound, by shape of the wave and signal to noise.</summary>
internal static class ToneStudy
{
    private const string Hummed = "hum";

    private static readonly double[] Decibels = [20, 30, 40, 50, 60];

    private static readonly (string Words, string Shape, double Cents)[] Cases =
    [
        ("sine", "sine", 0), ("saw", "saw", 0), ("pulse of 27 %", "pulse", 0),
        ("two sines, 40 cents", "sine", 40), ("two saws, 5 cents", "saw", 5), ("two saws, 20 cents", "saw", 20), ("two pulses, 12 cents", "pulse", 12),
    ];

    /// <param name="trials">Readings a figure.</param>
    /// <param name="only">Rows to make, by their words, and <c>hum</c> for those with hum alone; none: all. A row's figures are the same whatever is made beside it.</param>
    public static void Run(Page page, int trials, params string[] only)
    {
        if (only.FirstOrDefault(word => word != Hummed && !Cases.Any(one => one.Words == word)) is { } stranger)
            throw new ArgumentException($"'{stranger}' is no row; there are: {Hummed}; {string.Join("; ", Cases.Select(one => one.Words))}");
        string[] rows = [.. only.Where(word => word != Hummed)];
        page.Line("# How close is the frequency estimator to its bound?");
        page.Line();
        page.Line($"Mean square error of {trials} readings near 440 Hz over the Cramér-Rao bound of the same recording (all amplitudes, the mean,");
        page.Line("the other note and the hum's frequency unknown); in brackets the mean variance that the readings claim, over the bound.");
        page.Line($"One note lasts 0.1 s, two last 0.25 s, 48 kHz. The ratio itself is good to {100 * Math.Sqrt(2.0 / trials):0} %. Made by `bench/run tones {trials}`.");
        foreach (bool hum in only.Contains(Hummed) ? (bool[])[true] : [false, true])
        {
            page.Heading(hum ? "With hum of 50 Hz, 100 Hz and 150 Hz, 18 dB below the note" : "Noise alone");
            page.Table(["", .. Decibels.Select(level => $"{level} dB")], Cases.Where(one => rows.Length == 0 || rows.Contains(one.Words)).Select(one => Row(one, hum, trials)));
        }
    }

    private static string[] Row((string Words, string Shape, double Cents) one, bool hum, int trials) =>
        [
            one.Words,
            .. Decibels.Select(level =>
            {
                Scatter scatter = Scatter.Of(one.Shape, one.Cents, hum, level, trials, seed: 13 + (int)level);
                string missed = scatter.Missed > 0 ? $", {scatter.Missed} unread" : "";
                return string.Create(CultureInfo.InvariantCulture, $"{scatter.Ratio:0.00} ({scatter.Reported:0.00}){missed}");
            }),
        ];
}
