namespace Consort.Engine.Quantities;

/// <summary>A frequency as the MIDI Tuning Standard writes it (MIDI 1.0 Detailed Specification): three bytes of 7 bits, a
/// note of equal temperament (A4 = 440 Hz is note 69) and the rest of a semitone in 16384ths.</summary>
/// <param name="Note">0 to 127.</param>
/// <param name="Fraction">0 to 16383; one of them is 0.0061 cent.</param>
public readonly record struct MidiTuning(int Note, int Fraction)
{
    private const int Steps = 1 << 14;

    // 7F 7F 7F says "no change": the highest frequency that can be said is one step below.
    private const long Highest = 128L * Steps - 2;

    /// <summary>The word nearest to a frequency; null beyond what the standard can say (8.18 Hz to 13.29 kHz).</summary>
    public static MidiTuning? Of(Hertz frequency)
    {
        double note = 69 + 12 * Math.Log2(frequency.Value / 440);
        if (!double.IsFinite(note))
            return null;
        double steps = Math.Floor(note) * Steps + Math.Round((note - Math.Floor(note)) * Steps);
        return steps is >= 0 and <= Highest ? new((int)(steps / Steps), (int)(steps % Steps)) : null;
    }

    /// <summary>The frequency that it says.</summary>
    public Hertz Frequency => new(440 * Math.Pow(2, (Note - 69 + (double)Fraction / Steps) / 12));

    /// <summary>The three bytes.</summary>
    public byte[] Bytes => [(byte)Note, (byte)(Fraction >> 7), (byte)(Fraction & 0x7F)];
}
