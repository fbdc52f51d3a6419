using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Bench;

/// <summary>The example voices, ready to be played. Paths count from the folder of the repository, where the scripts start
/// the program.</summary>
internal static class Examples
{
    /// <summary>Those that play; more may be there.</summary>
    public static IReadOnlyList<string> Names { get; } =
        [.. Directory.GetDirectories("examples").Where(folder => File.Exists(Path.Combine(folder, "voice.yaml"))).Select(folder => Path.GetFileName(folder)).Order(StringComparer.Ordinal)];

    /// <summary>One of them, wired up and prepared.</summary>
    public static PlayedVoice Play(string name)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine("examples", name));
        PlayedVoice played = PlayedVoice.Of(voice ?? throw new InvalidDataException($"examples/{name} has errors: ./consort prove examples/{name}"));
        return played.Prepare() is { } failure ? throw new InvalidOperationException($"examples/{name}: {failure}") : played;
    }

    /// <summary>One of its oscillators, cut out and prepared.</summary>
    public static SoloOscillator Solo(PlayedVoice played, Oscillator oscillator)
    {
        SoloOscillator solo = new(played, oscillator);
        return solo.Prepare(played.MiddleVolts) is { } failure ? throw new InvalidOperationException($"{oscillator.Name}: {failure}") : solo;
    }
}
