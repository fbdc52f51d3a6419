using PdfSharp.Fonts;

namespace Consort.Engine.Documents.Files;

/// <summary>The fonts of printed pages: DejaVu Sans, which the program carries with its licence.</summary>
internal sealed class PaperFonts : IFontResolver
{
    /// <summary>The family's name.</summary>
    public const string Family = "DejaVu Sans";

    private static readonly Lock Gate = new();

    /// <summary>Makes them known to the library, once in a process.</summary>
    public static void Install()
    {
        lock (Gate)
            if (GlobalFontSettings.FontResolver is null)
                GlobalFontSettings.FontResolver = new PaperFonts();
    }

    /// <inheritdoc/>
    public FontResolverInfo? ResolveTypeface(string familyName, bool bold, bool italic) => new(bold ? "DejaVuSans-Bold" : "DejaVuSans");

    /// <inheritdoc/>
    public byte[]? GetFont(string faceName)
    {
        using Stream font = typeof(PaperFonts).Assembly.GetManifestResourceStream($"Consort.Engine.Documents.Files.Fonts.{faceName}.ttf")!;
        using MemoryStream whole = new();
        font.CopyTo(whole);
        return whole.ToArray();
    }
}
