using Consort.Engine.Design;

namespace Consort.Engine.Response;

/// <summary>The least of a voice that an oscillator needs around it, for what has to be followed in motion.</summary>
internal static class Surroundings
{
    /// <summary>The voice with that oscillator, what feeds it by ribbon or cord, and modules that are no oscillators; all else
    /// is taken out with its cords.</summary>
    public static Voice Of(Voice voice, string oscillator)
    {
        HashSet<string> kept = [oscillator, .. voice.Members.Where(member => member.Module.Pitch is null).Select(member => member.Name)];
        for (int before = 0; before < kept.Count; )
        {
            before = kept.Count;
            kept.UnionWith(voice.Ribbons.Where(ribbon => ribbon.To.Any(to => kept.Contains(to.Owner))).Select(ribbon => ribbon.From.Owner));
            kept.UnionWith(voice.Cords.Where(cord => kept.Contains(cord.To.Owner)).Select(cord => cord.From.Owner).Where(name => voice.Members.Any(member => member.Name == name)));
        }
        return voice.Without(voice.Members.Select(member => member.Name).Except(kept).ToHashSet());
    }
}
