using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Sound.Playing;

/// <summary>A player's voltage moved about where it stands: <c>slow wave=sine 5 Hz 2 V</c>; a rate of <c>2x</c> is twice the first
/// oscillator's pitch.</summary>
/// <param name="Player">The player's name.</param>
/// <param name="IsTriangle">False: a sine.</param>
/// <param name="Hertz">Its rate; null when it follows the pitch.</param>
/// <param name="Ratio">Of the pitch, when it follows it.</param>
/// <param name="Volts">How far it moves either way, V.</param>
public sealed record Modulation(string Player, bool IsTriangle, double? Hertz, double Ratio, double Volts)
{
    private const string Example = "write PLAYER=SHAPE RATE DEPTH, as \"slow wave=sine 5 Hz 2 V\" or \"fm=triangle 2x 1 V\"";

    /// <summary>Its value at a phase, −1 to 1, starting at 0 and rising.</summary>
    public double At(double phase)
    {
        double turn = Turns.Part(phase);
        return !IsTriangle ? Math.Sin(2 * Math.PI * turn)
            : turn < 0.25 ? 4 * turn
            : turn < 0.75 ? 2 - 4 * turn
            : 4 * turn - 4;
    }

    /// <summary>Reads one.</summary>
    public static (Modulation? Modulation, WordFault? Fault) Read(Voice voice, string text)
    {
        int split = text.IndexOf('=', StringComparison.Ordinal);
        string[] words = split < 0 ? [] : text[(split + 1)..].Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (words.Length < 3 || words[0] is not ("sine" or "triangle"))
            return (null, new($"'{text.Trim()}' cannot be understood", Example));
        string name = text[..split].Trim();
        Player? player = voice.Players.FirstOrDefault(player => player.Name == name);
        if (player is null || player.IsPitch)
            return (null, new(player is null ? $"there is no player '{name}'" : $"'{name}' plays the pitch and is not moved",
                $"one of {string.Join(", ", voice.Players.Where(p => !p.IsPitch).Select(p => p.Name))}"));
        bool follows = words[1].EndsWith('x');
        int rateWords = follows ? 1 : words.Length > 2 && Quantity.Read($"{words[1]} {words[2]}", Dimension.Frequency) is not null ? 2 : 1;
        string rate = string.Join(' ', words.Skip(1).Take(rateWords));
        string depth = string.Join(' ', words.Skip(1 + rateWords));
        double ratio = 0;
        double? hertz = null;
        if (follows ? !double.TryParse(rate[..^1], NumberStyles.Float, CultureInfo.InvariantCulture, out ratio) || !(ratio > 0) : (hertz = Quantity.Read(rate, Dimension.Frequency)) is not > 0)
            return (null, new($"'{rate}' is no rate", "write a frequency, as 5 Hz, or a multiple of the pitch, as 2x"));
        if (!Quantity.TryRead(depth, Dimension.Voltage, bare: false, out double volts, out QuantityFault? fault))
            return (null, new($"{name}: {fault!.What}", fault.Mend));
        return (new(name, words[0] == "triangle", hertz, ratio, volts), null);
    }
}
