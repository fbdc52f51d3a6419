using System.Globalization;

namespace Consort.Engine.Quantities;

/// <summary>Names of the keys: a letter, accidentals, an octave; A4 is 440 Hz (ISO 16:1975), C4 is key 60 of MIDI.</summary>
public static class NoteName
{
    private const string Letters = "C D EF G A B";
    private static readonly string[] Names = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"];

    /// <summary>The key of that name, as <c>A4</c>, <c>C#3</c>, <c>Bb-1</c>; null when it is none of 0 to 127.</summary>
    public static int? Read(string text)
    {
        string name = text.Trim().Replace('♯', '#').Replace('♭', 'b');
        int step = name.Length < 2 || name[0] == ' ' ? -1 : Letters.IndexOf(char.ToUpperInvariant(name[0]), StringComparison.Ordinal);
        if (step < 0)
            return null;
        int at = 1;
        for (; at < name.Length && name[at] is '#' or 'b'; at++)
            step += name[at] == '#' ? 1 : -1;
        if (!int.TryParse(name.AsSpan(at), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int octave) || octave is < -2 or > 11)
            return null;
        int key = 12 * (octave + 1) + step;
        return key is >= 0 and <= 127 ? key : null;
    }

    /// <summary>The name of a key, with sharps.</summary>
    public static string Write(int key) => $"{Names[key % 12]}{key / 12 - 1}";

    /// <summary>Equal temperament, Hz.</summary>
    public static double Hertz(double key) => 440 * Math.Pow(2, (key - 69) / 12);
}
