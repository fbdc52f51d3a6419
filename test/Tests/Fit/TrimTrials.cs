using System.Globalization;
using System.Text;
using Consort.Engine.Fit;

namespace Consort.Tests.Invented;

/// <summary>Many trials of one module, alike in how unlike their units are.</summary>
internal sealed record TrimTrials(string Module, Unlikeness Unlike, double Limit, int Drawn, TrimTrial[] Trials)
{
    public int Trimmable => Trials.Length;

    public static TrimTrials Of(UnitModel model, ulong seed, int count, Unlikeness unlike, bool isWhole = false) =>
        new(model.Place.Unit.Module, unlike, model.Limits.TrackingCents, count, [.. Enumerable.Range(0, count).Select(i => TrimTrial.Run(model, seed, i, unlike, isWhole)).Where(trial => trial.Trimmable)]);

    /// <summary>Share within the limit after so many rounds.</summary>
    public double Kept(int round) => Trials.Average(trial => trial.Ours[round] <= Limit ? 1.0 : 0);

    public static string Table(IEnumerable<TrimTrials> all)
    {
        StringBuilder text = new("| module | parts' spread | bend, cents | trimmable | turns | by the fit: median / worst cents (share kept) after 1, 2, 3 rounds | by the sheet |\n|---|---:|---:|---:|---:|---|---|\n");
        foreach (TrimTrials one in all)
            text.Append(CultureInfo.InvariantCulture, $"| {one.Module} | ×{one.Unlike.Parts} | {one.Unlike.Bend} | {one.Trimmable} of {one.Drawn} | {one.Trials.Select(trial => trial.Turns).DefaultIfEmpty().Average():0.0} | {one.Rounds(trial => trial.Ours)} | {one.Rounds(trial => trial.Plain)} |\n");
        return text.ToString();
    }

    private string Rounds(Func<TrimTrial, double[]> of) =>
        Trials.Length == 0 ? "-" : string.Join("; ", Enumerable.Range(1, 3).Select(round =>
        {
            double[] worst = [.. Trials.Select(trial => of(trial)[round]).Order()];
            return string.Create(CultureInfo.InvariantCulture, $"{worst[worst.Length / 2]:0.00} / {worst[^1]:0.00} ({100.0 * worst.Count(cents => cents <= Limit) / worst.Length:0} %)");
        }));
}
