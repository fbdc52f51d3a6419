using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Xunit;

namespace Consort.Tests.Sound.Sync;

/// <summary>The pair's second, its sync jack on a cord from the lead's square; trimmed.</summary>
internal static class SyncedPair
{
    private static readonly Lazy<Voice> Pair = new(() =>
    {
        Voice whole = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair")).Voice!;
        return Trimmed(whole with { Cords = whole.Cords.Add(whole.Cords[0] with { From = new("lead", "square"), To = new("second", "sync") }) });
    });

    private static readonly Lazy<Voice> Two = new(() =>
    {
        Voice whole = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet")).Voice!;
        return Trimmed(whole with { Members = whole.Members[..2], Ribbons = [whole.Ribbons[0] with { To = [whole.Ribbons[0].To[0]] }] });
    });

    private static Voice Trimmed(Voice voice)
    {
        (PlayedVoice? ready, SolveFailure? failure) = ReadyVoice.Of(voice, voice, trims: true, Constants.ReferenceTemperature, 1);
        Assert.Null(failure);
        return ready!.Voice;
    }

    /// <summary>Made ready.</summary>
    /// <param name="way">Of its switch: 1 off, 2 soft, 3 hard.</param>
    /// <param name="cents">How far the second stands from the lead, by its timing capacitor, above its +3 cents.</param>
    public static PlayedVoice Of(int way, double cents = 0) => Of(Pair.Value, "C5", way, cents);

    /// <summary>The quartet's lead and its second, whose sync runs in the ribbon.</summary>
    public static PlayedVoice Quartet(int way, double cents = 0) => Of(Two.Value, "C6", way, cents);

    private static PlayedVoice Of(Voice trimmed, string capacitor, int way, double cents)
    {
        Member second = trimmed.Members[1];
        Voice voice = trimmed with { Members = trimmed.Members.SetItem(1, second with { Set = second.Set.SetItem("SW1", way), StandsCents = second.StandsCents + cents }) };
        PlayedVoice played = PlayedVoice.Of(voice, TestContext.Current.CancellationToken);
        played.Circuit[$"second/{capacitor}", "value"] *= Math.Pow(2, -cents / 1200);
        Assert.Null(played.Prepare());
        return played;
    }
}
