namespace Consort.Engine.Sound.Live;

/// <summary>The keys that are down: the one that was pressed last is played.</summary>
public sealed class HeldKeys
{
    private readonly List<int> held = [];

    /// <summary>The key to be played; null when none is down.</summary>
    public int? Played => held.Count > 0 ? held[^1] : null;

    /// <summary>A key goes down; again, when it was down.</summary>
    public void Press(int key)
    {
        held.Remove(key);
        held.Add(key);
    }

    /// <summary>A key comes up.</summary>
    public void Release(int key) => held.Remove(key);

    /// <summary>All come up.</summary>
    public void ReleaseAll() => held.Clear();
}
