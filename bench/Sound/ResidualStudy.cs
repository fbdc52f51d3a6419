using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Quantities;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Playing;

namespace Consort.Bench.Sound;

/// <summary>What is left between rendered waves and those of the whole circuits in motion.</summary>
internal static class ResidualStudy
{
    private static readonly string[] Voices = ["pair", "quartet"];
    private static readonly string[] Keys = ["A1", "A3", "A5"];

    public static void Run(Page page)
    {
        page.Heading("Sound: rendered against the whole circuit");
        page.Line($"Root mean square of the difference against the circuit's wave, both up to {CircuitResidual.Highest / 1000} kHz, dB. The circuit runs with all oscillators.");
        page.Table(["output", .. Keys], Voices.SelectMany(Rows));
    }

    private static IEnumerable<IReadOnlyList<string>> Rows(string name)
    {
        PlayedVoice played = Examples.Play(name);
        foreach (Oscillator oscillator in played.Oscillators.Take(2))
            foreach (string output in Channel.Outputs(oscillator.Member.Module))
                yield return [$"{name} {oscillator.Name}/{output}", .. Keys.Select(key => Residual(played, oscillator.Name, output, key))];
    }

    private static string Residual(PlayedVoice played, string oscillator, string output, string key)
    {
        (double db, SolveFailure? failure) = CircuitResidual.Read(played.Twin(), oscillator, output, NoteName.Read(key)!.Value);
        return failure is null ? $"{db:0.0}" : failure.ToString();
    }
}
