using System.Collections.Concurrent;
using System.Security.Cryptography;
using Consort.Engine.Sound.Live;

namespace Consort.Workbench.Screens.Sound;

/// <summary>All that is being played: one line for each tab that made a voice ready.</summary>
public sealed class SoundDesk
{
    private readonly ConcurrentDictionary<string, SoundLine> lines = new(StringComparer.Ordinal);

    /// <summary>A new line; its token is known to the tab that asked for it.</summary>
    public SoundLine Open(SoundingVoice voice)
    {
        SoundLine line = new(Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16)), voice);
        lines[line.Token] = line;
        return line;
    }

    /// <summary>The line of a token; null when there is none.</summary>
    public SoundLine? Find(string? token) => token is not null && lines.TryGetValue(token, out SoundLine? line) ? line : null;

    /// <summary>Its stream finds nothing any more.</summary>
    public void Close(SoundLine line) => lines.TryRemove(line.Token, out _);
}

/// <summary>A voice being played.</summary>
/// <param name="token">Names it in the address of its stream.</param>
/// <param name="voice">What was read of it.</param>
public sealed class SoundLine(string token, SoundingVoice voice)
{
    private int streams;

    /// <summary>Names it.</summary>
    public string Token => token;

    /// <summary>What was read of it.</summary>
    public SoundingVoice Voice => voice;

    /// <summary>Makes its samples; the stream fills, the screen sets controls.</summary>
    public LiveRenderer Player { get; } = voice.Player();

    /// <summary>Keys that are down.</summary>
    public HeldKeys Keys { get; } = new();

    /// <summary>True for one stream at a time.</summary>
    public bool Begin() => Interlocked.CompareExchange(ref streams, 1, 0) == 0;

    /// <summary>The stream is over: all keys come up.</summary>
    public void End()
    {
        Keys.ReleaseAll();
        Player.Touch(null);
        Interlocked.Exchange(ref streams, 0);
    }
}
