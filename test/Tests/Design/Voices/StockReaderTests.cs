using System.Collections.Immutable;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design.Voices;

public sealed class StockReaderTests
{
    [Fact]
    public void Price_breaks_packs_spares_and_packages_are_read()
    {
        using Folder folder = new();
        (_, Stock? stock, ImmutableArray<InputError> errors) = folder
            .With("stock.yaml", "price: 0.60}", "price: 0.60, price breaks: {100: 0.41, 25: 0.50}, sold in: 5, spare: 10%, package: DIP-8}")
            .Read();
        Assert.Empty(errors);
        StockItem item = stock!.Items.Single(item => item.Model == "TL072");
        Assert.Equal([new PriceBreak(25, 0.50), new PriceBreak(100, 0.41)], item.Terms.Breaks); // by rising number, however written
        Assert.Equal(5, item.Terms.SoldIn);
        Assert.Equal(0.1, item.Terms.Spare);
        Assert.Equal("DIP-8", item.Package);
    }

    [Fact]
    public void Extras_and_multiples_are_read()
    {
        using Folder folder = new();
        (_, Stock? stock, ImmutableArray<InputError> errors) = folder
            .With("stock.yaml", "stock:", """
                currency: crowns
                extras:
                  - {extra: knob, each: potentiometer, only: lead, count: 2, price: 0.40}
                multiples:
                  - {multiple: buffered, ways: 4, width: 4 HP, depth: 30 mm, current: 8 mA, price: 39}
                stock:
                """)
            .Read();
        Assert.Empty(errors.Select(error => error.Render()));
        Assert.Equal("crowns", stock!.Currency);
        StockExtra knob = Assert.Single(stock.Extras);
        Assert.Equal(("knob", "potentiometer", "lead", 2, 0.40), (knob.Name, knob.Each, knob.Only, knob.Count, knob.Price));
        StockMultiple multiple = Assert.Single(stock.Multiples);
        Assert.Equal((true, 4, 0.03, 0.008, 39.0), (multiple.Buffered, multiple.Ways, multiple.Depth, multiple.Current, multiple.Price));
    }

    [Theory]
    [InlineData("C143", "price: 0.60}", "price: 0.60, price breaks: {few: 0.41}}")]
    [InlineData("C143", "price: 0.60}", "price: 0.60, price breaks: {1: 0.41}}")]
    [InlineData("C144", "stock:", "extras: [{extra: knob, each: potentiometre}]\nstock:")]
    [InlineData("C145", "stock:", "extras: [{extra: knob, each: module, only: leed}]\nstock:")]
    [InlineData("C015", "price: 0.60}", "price: 0.60, sold in: 2.5}")]
    [InlineData("C022", "stock:", "extras: [{extra: knob}]\nstock:")]
    [InlineData("C020", "stock:", "multiples: [passive]\nstock:")]
    public void A_mistake_about_buying_is_told_with_its_place(string code, string old, string text)
    {
        using Folder folder = new();
        (_, _, ImmutableArray<InputError> errors) = folder.With("stock.yaml", old, text).Read();
        InputError error = Assert.Single(errors);
        Assert.Equal((code, "stock.yaml"), (error.Code, error.At.File));
        Assert.NotEmpty(error.Mend);
    }
}
