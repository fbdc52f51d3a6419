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
    private static readonly string[] Between = ["F#2", "A3", "F#4", "F#5"]; // half an octave from what is read, A3 a quarter

    public static void Run(Page page)
    {
        page.Heading("Sound: rendered against the whole circuit");
        page.Line($"Root mean square of the difference against the circuit's wave, both up to {CircuitResidual.Highest / 1000} kHz, dB. The circuit runs with all oscillators.");
        page.Table(["output", .. Keys], Voices.SelectMany(name => Rows(name, Keys, amongMany: false)));
        page.Heading("Sound: one note of many against the whole circuit");
        page.Line("As before, of a piece of so many notes that none is read itself: its wave is made of the octaves around it.");
        page.Table(["output", .. Between], Voices.SelectMany(name => Rows(name, Between, amongMany: true)));
    }

    private static IEnumerable<IReadOnlyList<string>> Rows(string name, string[] keys, bool amongMany)
    {
        PlayedVoice played = Examples.Play(name);
        foreach (Oscillator oscillator in played.Oscillators.Take(2))
            foreach (string output in Channel.Outputs(oscillator.Member.Module))
                yield return [$"{name} {oscillator.Name}/{output}", .. keys.Select(key => Residual(played, oscillator.Name, output, key, amongMany))];
    }

    private static string Residual(PlayedVoice played, string oscillator, string output, string key, bool amongMany)
    {
        (double db, SolveFailure? failure) = CircuitResidual.Read(played.Twin(), oscillator, output, NoteName.Read(key)!.Value, amongMany);
        return failure is null ? $"{db:0.0}" : failure.ToString();
    }
}
