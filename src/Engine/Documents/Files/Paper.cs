using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Consort.Engine.Documents.Files;

/// <summary>A document of printed pages (PDF), drawn in millimetres.</summary>
public sealed class Paper : IDisposable
{
    // PDFsharp keeps fonts in tables of the whole process: one document at a time.
    private static readonly Lock Gate = new();

    private readonly PdfDocument document = new();
    private readonly List<PaperPage> pages = [];

    /// <summary>An empty document.</summary>
    public Paper(string title)
    {
        Gate.Enter();
        PaperFonts.Install();
        document.Info.Title = title;
        document.Info.Author = "Consort";
        document.Info.CreationDate = SteadyZip.FirstDate.UtcDateTime;
        document.Info.ModificationDate = SteadyZip.FirstDate.UtcDateTime;
    }

    /// <summary>Pages so far.</summary>
    public IReadOnlyList<PaperPage> Pages => pages;

    /// <summary>A new page of that size, mm; A4 upright when it is not given.</summary>
    public PaperPage Add(double width = 210, double height = 297)
    {
        PdfPage page = document.AddPage();
        page.Width = XUnit.FromMillimeter(width);
        page.Height = XUnit.FromMillimeter(height);
        PaperPage added = new(page, width, height);
        pages.Add(added);
        return added;
    }

    /// <summary>The file's bytes: the same for the same content.</summary>
    public byte[] Save()
    {
        foreach (PaperPage page in pages)
            page.Dispose();
        using MemoryStream stream = new();
        document.Save(stream, closeStream: false);
        return SteadyPdf.Steady(stream.ToArray());
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (PaperPage page in pages)
            page.Dispose();
        document.Dispose();
        Gate.Exit();
    }
}
