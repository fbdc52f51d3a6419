using Consort.Engine.Documents;
using Xunit;

namespace Consort.Tests.Documents;

public sealed class FiguresTests
{
    [Theory]
    [InlineData(4700, "Ω", "4.7 kΩ")]
    [InlineData(0.4, "Ω", "400 mΩ")]
    [InlineData(50e-6, "V", "50 µV")]
    [InlineData(1e-14, "A", "10 fA")]
    [InlineData(1e-9, "F", "1 nF")]
    [InlineData(999.9e-9, "F", "999.9 nF")]
    [InlineData(1000, "Ω", "1 kΩ")]
    [InlineData(-12, "V", "-12 V")]
    [InlineData(298.15, "K", "298.1 K")]
    [InlineData(13e6, "V/s", "13 MV/s")]
    [InlineData(18e-9, "V/√Hz", "18 nV/√Hz")]
    [InlineData(-120e-6, "1/K", "-120 ppm/K")]
    [InlineData(25e-6, "", "25 ppm")]
    [InlineData(100, "", "100")]
    [InlineData(double.PositiveInfinity, "V", "infinite V")]
    public void A_value_has_a_prefix_and_few_digits(double value, string unit, string text) =>
        Assert.Equal(text, Figures.Si(value, unit));

    [Theory]
    [InlineData(0.001, "0.00")]
    [InlineData(-0.001, "0.00")]
    [InlineData(0.12, "+0.12")]
    [InlineData(-9.996, "-10.0")]
    [InlineData(123.4, "+123")]
    [InlineData(double.NaN, "none")]
    public void Cents_have_a_sign_unless_they_round_to_nothing(double cents, string text) =>
        Assert.Equal(text, Figures.SignedCents(cents));

    [Theory]
    [InlineData(1, "followers", "1 follower")]
    [InlineData(7, "followers", "7 followers")]
    [InlineData(2.137, "cents", "2.14 cents")]
    [InlineData(38.94, "cents", "38.9 cents")]
    [InlineData(100, "%", "100 %")]
    public void A_figure_agrees_with_its_unit(double value, string unit, string text) =>
        Assert.Equal(text, Figures.WithUnit(value, unit));
}
