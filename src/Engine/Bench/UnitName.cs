using Consort.Engine.Design;

namespace Consort.Engine.Bench;

/// <summary>One built example of a module.</summary>
/// <param name="Module">The module's file name, without its ending.</param>
/// <param name="Serial">What is written on it: letters, digits, points, hyphens, underlines.</param>
public readonly record struct UnitName(string Module, string Serial)
{
    private const int Longest = 40;

    /// <summary>Reads <c>MODULE/SERIAL</c>; null with the reason when it is none.</summary>
    public static (UnitName? Unit, string? What) Read(string text)
    {
        int slash = text.IndexOf('/', StringComparison.Ordinal);
        if (slash <= 0 || slash == text.Length - 1)
            return (null, $"{ErrorList.Quote(text)} is no unit: it takes a module and a serial");
        string serial = text[(slash + 1)..];
        return serial.Length <= Longest && serial.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_')
            ? (new(text[..slash], serial), null)
            : (null, $"{ErrorList.Quote(serial)} is no serial: it takes up to {Longest} letters, digits, points, hyphens and underlines");
    }

    /// <inheritdoc/>
    public override string ToString() => $"{Module}/{Serial}";
}
