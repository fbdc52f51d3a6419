using Consort.Engine.Quantities;
using Xunit;

namespace Consort.Tests.Quantities;

public sealed class SeriesTests
{
    private static IEnumerable<int> Of(string name) => Series.Find(name)!.Mantissas;

    // IEC 60063:2015, table 1 (from memory).
    [Fact]
    public void E12_and_E24_are_the_standards_lists()
    {
        int[] e12 = [10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82];
        int[] e24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];
        Assert.Equal(e12, Of("E12").Select(m => m / 10));
        Assert.Equal(e24, Of("E24").Select(m => m / 10));
    }

    // IEC 60063:2015 (from memory).
    [Fact]
    public void E96_is_the_standards_list()
    {
        const string list = """
            100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174 178 182 187 191
            196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309 316 324 332 340 348 357 365 374
            383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549 562 576 590 604 619 634 649 665 681 698 715 732
            750 768 787 806 825 845 866 887 909 931 953 976
            """;
        Assert.Equal(list.Split([' ', '\n', '\r'], StringSplitOptions.RemoveEmptyEntries).Select(int.Parse), Of("E96"));
    }

    // IEC 60063:2015, E192 (from memory): the one value that is not its formula's.
    [Fact]
    public void E192_has_920_and_not_919()
    {
        Assert.Contains(920, Of("E192"));
        Assert.DoesNotContain(919, Of("E192"));
        Assert.Equal(192, Of("E192").Distinct().Count());
    }

    [Fact]
    public void Each_series_holds_every_value_of_the_coarser_ones_of_its_family()
    {
        Assert.Subset(Of("E24").ToHashSet(), Of("E12").ToHashSet());
        Assert.Subset(Of("E12").ToHashSet(), Of("E6").ToHashSet());
        Assert.Subset(Of("E6").ToHashSet(), Of("E3").ToHashSet());
        Assert.Subset(Of("E192").ToHashSet(), Of("E96").ToHashSet());
        Assert.Subset(Of("E96").ToHashSet(), Of("E48").ToHashSet());
    }

    [Theory]
    [InlineData("E12", 5000, 4700)]
    [InlineData("E24", 2600, 2700)]
    [InlineData("E96", 46300, 46400)]
    [InlineData("E12", 98e3, 100e3)]
    [InlineData("E12", 1.02e-9, 1e-9)]
    [InlineData("E3", 3.3e-12, 4.7e-12)]
    [InlineData("E24", 0.0999, 0.1)]
    public void Nearest_goes_by_ratio_and_over_the_decades_end(string series, double value, double nearest) =>
        Assert.Equal(nearest, Series.Find(series)!.Nearest(value));

    [Fact]
    public void A_value_of_the_series_is_its_own_nearest()
    {
        foreach (Series series in Series.All)
            foreach (int mantissa in series.Mantissas)
                Assert.True(series.Holds(mantissa * 1e-11) && series.Holds(mantissa * 1e4));
    }
}
