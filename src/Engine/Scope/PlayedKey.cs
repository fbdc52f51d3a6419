using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Scope;

/// <summary>What is played on a keyboard, in a person's words.</summary>
public static class PlayedKey
{
    /// <summary>A voltage (<c>3 V</c>) or a key (<c>A4</c>); null: the middle of the keyboard's range, to a whole volt.</summary>
    public static (double Volts, WordFault? Fault) Read(Voice voice, string? text)
    {
        Player? keyboard = voice.Players.FirstOrDefault(player => player.IsPitch);
        if (text is null)
            return (keyboard is null ? 0 : Math.Round(0.5 * (keyboard.Low + keyboard.High)), null);
        if (Quantity.TryRead(text, Dimension.Voltage, bare: false, out double volts, out _))
            return (volts, null);
        PitchSpec? law = voice.Members.Select(member => member.Module.Pitch).FirstOrDefault(pitch => pitch is not null);
        if (law is not null && NoteName.Read(text) is { } key)
            return (law.ReferenceVoltage + law.VoltsPerOctave * Math.Log2(NoteName.Hertz(key) / law.ReferenceFrequency), null);
        return (0, new($"'{text}' is neither a voltage nor a key", "write it as \"3 V\" or A4"));
    }
}
