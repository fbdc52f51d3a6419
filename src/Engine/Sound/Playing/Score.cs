using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Sound.Playing;

/// <summary>A change in what is played.</summary>
/// <param name="Seconds">When.</param>
/// <param name="Key">MIDI key, with the bend in it; null: nothing is held.</param>
public readonly record struct Touch(double Seconds, double? Key);

/// <summary>What one voice plays: one note at a time, the key that was pressed last of those held.</summary>
/// <param name="Touches">In order of time.</param>
/// <param name="Seconds">Until the last key is let go.</param>
public sealed record Score(ImmutableArray<Touch> Touches, double Seconds)
{
    private const double MostSeconds = 3600;

    /// <summary>Reads a note list, <c>A2 1 s, C#3 0.5 s, rest 0.5 s</c>: each note after the other, let go at the next.</summary>
    public static (Score? Score, ImmutableArray<WordFault> Faults) Read(IEnumerable<string> notes)
    {
        ImmutableArray<Touch>.Builder touches = ImmutableArray.CreateBuilder<Touch>();
        ImmutableArray<WordFault>.Builder faults = ImmutableArray.CreateBuilder<WordFault>();
        double at = 0;
        foreach (string note in notes)
        {
            int split = note.Trim().IndexOf(' ', StringComparison.Ordinal);
            (string name, string length) = split < 0 ? (note.Trim(), "") : (note.Trim()[..split], note.Trim()[(split + 1)..]);
            int? key = NoteName.Read(name);
            if (key is null && name != "rest")
                faults.Add(new($"'{name}' is neither a key nor 'rest'", "write a letter, accidentals and the octave, as A4 or C#3"));
            double seconds = 0;
            if (!Quantity.TryRead(length, Dimension.Time, bare: false, out seconds, out QuantityFault? fault))
                faults.Add(new($"'{note.Trim()}': {(length.Length == 0 ? "it has no length" : fault!.What)}", "write it as A4 500 ms"));
            else if (!(seconds > 0))
                faults.Add(new($"'{note.Trim()}': its length must be above zero", "write it as A4 500 ms"));
            touches.Add(new(at, key));
            at += seconds;
        }
        if (touches.Count == 0)
            faults.Add(new("there is nothing to play", "write a note list, as \"A2 1 s, C3 1 s\""));
        if (at > MostSeconds)
            faults.Add(new("more than an hour is to be played", "play less at once"));
        touches.Add(new(at, null));
        return faults.Count > 0 ? (null, faults.ToImmutable()) : (new(touches.ToImmutable(), at), []);
    }
}
