using System.Collections.Immutable;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch;

/// <summary>How a bought module follows the keyboard: what its data sheet promises, and what the wiring does to the
/// voltage that reaches it, from operating points of the whole voice.</summary>
/// <param name="Member">Its name in the voice.</param>
/// <param name="Input">The input that the keyboard reaches.</param>
/// <param name="SheetCents">Promised by its data sheet over five octaves, cents.</param>
/// <param name="ScaleCents">What the wiring takes of each octave, cents; the module's own tracking trim gives it back.</param>
/// <param name="BendCents">What no trim at two notes takes away: the largest departure from a straight line, cents.</param>
public sealed record BoughtTracking(string Member, string Input, double SheetCents, double ScaleCents, double BendCents)
{
    /// <summary>The most that it may be off, its own trims made, cents.</summary>
    public double WorstCents => SheetCents + BendCents;

    /// <summary>Reads all bought modules that state a tracking error and hang on the keyboard.</summary>
    public static ImmutableArray<BoughtTracking> Of(PlayedVoice voice, double[] notes, double voltsPerOctave)
    {
        Member[] bought = [.. voice.Voice.Members.Where(member => member.Module.Sheet?.TrackingCents is not null)];
        if (bought.Length == 0)
            return [];
        double[]?[] states = [.. notes.Select(note => voice.Rest(note).State?.X)];
        return states.Contains(null) ? [] : [.. bought.Select(member => Read(voice, member, notes, states!, voltsPerOctave)).OfType<BoughtTracking>()];
    }

    private static BoughtTracking? Read(PlayedVoice voice, Member member, double[] notes, double[][] states, double voltsPerOctave)
    {
        int ground = voice.Circuit.Net(MemberParts.Net(member.Name, CircuitDesign.Ground));
        foreach (string label in member.Module.Sheet!.Inputs.Keys.Order(StringComparer.Ordinal))
        {
            int net = voice.Circuit.Net(MemberParts.Net(member.Name, label));
            double[] cents = [.. notes.Select((note, i) => 1200 / voltsPerOctave * (states[i][net] - states[i][ground] - note))];
            double scale = (cents[^1] - cents[0]) / (notes[^1] - notes[0]) * voltsPerOctave;
            if (Math.Abs(scale) > 600) // less than half of the keyboard arrives: this is not the pitch input
                continue;
            double bend = cents.Select((c, i) => Math.Abs(c - cents[0] - scale * (notes[i] - notes[0]) / voltsPerOctave)).Max();
            return new(member.Name, label, member.Module.Sheet.TrackingCents!.Value, scale, bend);
        }
        return null;
    }
}
