using Consort.Engine.Quantities;
using Xunit;

namespace Consort.Tests.Quantities;

public sealed class QuantityTests
{
    // IEC 60062:2016 (+A1:2019), resistance and capacitance marking codes (standard's text confirmed).
    [Theory]
    [InlineData("R47", 0.47)]
    [InlineData("4R7", 4.7)]
    [InlineData("470R", 470)]
    [InlineData("4K7", 4700)]
    [InlineData("47K3", 47300)]
    [InlineData("4M7", 4.7e6)]
    [InlineData("2L2", 2.2e-3)]
    public void A_code_of_IEC_60062_reads_as_its_resistance(string code, double ohms) =>
        Assert.Equal(ohms, Quantity.Read(code, Dimension.Resistance, bare: true));

    [Theory]
    [InlineData('B', 0.001)]
    [InlineData('C', 0.0025)]
    [InlineData('D', 0.005)]
    [InlineData('F', 0.01)]
    [InlineData('G', 0.02)]
    [InlineData('J', 0.05)]
    [InlineData('K', 0.1)]
    [InlineData('M', 0.2)]
    public void A_tolerance_letter_of_IEC_60062_reads_as_its_share(char letter, double share) =>
        Assert.Equal(share, ToleranceLetter.Read(letter));

    // The spellings that docs/design-folder.md promises.
    [Theory]
    [InlineData("4k7", Dimension.Resistance, 4700)]
    [InlineData("4.7k", Dimension.Resistance, 4700)]
    [InlineData("4.7 kΩ", Dimension.Resistance, 4700)]
    [InlineData("4k7 ohm", Dimension.Resistance, 4700)]
    [InlineData("20 mΩ", Dimension.Resistance, 0.02)]
    [InlineData("100n", Dimension.Capacitance, 100e-9)]
    [InlineData("4n7", Dimension.Capacitance, 4.7e-9)]
    [InlineData("2µ2", Dimension.Capacitance, 2.2e-6)]
    [InlineData("2.2 uF", Dimension.Capacitance, 2.2e-6)]
    [InlineData("2.2 μF", Dimension.Capacitance, 2.2e-6)]
    [InlineData("12 V", Dimension.Voltage, 12)]
    [InlineData("-12 V", Dimension.Voltage, -12)]
    [InlineData("−12 V", Dimension.Voltage, -12)]
    [InlineData("3V3", Dimension.Voltage, 3.3)]
    [InlineData("35 mA", Dimension.Current, 35e-3)]
    [InlineData("25 ppm/K", Dimension.PerKelvin, 25e-6)]
    [InlineData("-120 ppm/°C", Dimension.PerKelvin, -120e-6)]
    [InlineData("0.1%", Dimension.Ratio, 0.001)]
    [InlineData("50 %", Dimension.Ratio, 0.5)]
    [InlineData("600 ppm", Dimension.Ratio, 600e-6)]
    [InlineData("200k", Dimension.Ratio, 200e3)]
    [InlineData("100 dB", Dimension.Ratio, 1e5)]
    [InlineData("7 HP", Dimension.PanelWidth, 0.03556)]
    [InlineData("100 mm", Dimension.PanelWidth, 0.1)]
    [InlineData("3 U", Dimension.PanelHeight, 0.13335)]
    [InlineData("80 mm", Dimension.Length, 0.08)]
    [InlineData("25 °C", Dimension.Temperature, 298.15)]
    [InlineData("300 K", Dimension.Temperature, 300)]
    [InlineData("10 K", Dimension.TemperatureStep, 10)]
    [InlineData("13 V/µs", Dimension.Slew, 13e6)]
    [InlineData("18 nV/√Hz", Dimension.VoltageNoise, 18e-9)]
    [InlineData("18 nV/rtHz", Dimension.VoltageNoise, 18e-9)]
    [InlineData("10 fA/√Hz", Dimension.CurrentNoise, 10e-15)]
    [InlineData("10 µV/K", Dimension.VoltagePerKelvin, 10e-6)]
    [InlineData("1 V/oct", Dimension.VoltagePerOctave, 1)]
    [InlineData("+5 cents", Dimension.Interval, 5)]
    [InlineData("-12 semitones", Dimension.Interval, -1200)]
    [InlineData("1 octave", Dimension.Interval, 1200)]
    [InlineData("1 mA/V²", Dimension.CurrentPerSquareVolt, 1e-3)]
    [InlineData("0.5 √V", Dimension.RootVoltage, 0.5)]
    [InlineData("100 pF/m", Dimension.CapacitancePerLength, 100e-12)]
    [InlineData("213 Ω/km", Dimension.ResistancePerLength, 0.213)]
    [InlineData("0.02 /V", Dimension.PerVolt, 0.02)]
    [InlineData("5 pC", Dimension.Charge, 5e-12)]
    [InlineData("0.25", Dimension.Money, 0.25)]
    [InlineData("1.5e3 Hz", Dimension.Frequency, 1500)]
    public void A_value_as_the_trade_writes_it_reads_as_the_nearest_double(string text, Dimension dimension, double si) =>
        Assert.Equal(si, Quantity.Read(text, dimension, bare: dimension is Dimension.Resistance or Dimension.Capacitance)!.Value, 1e-15 * Math.Abs(si));

    [Theory]
    [InlineData("1.1n", 1.1e-9)]
    [InlineData("3.3p", 3.3e-12)]
    [InlineData("6.8u", 6.8e-6)]
    public void A_multiplier_costs_no_rounding(string text, double farad) =>
        Assert.Equal(farad, Quantity.Read(text, Dimension.Capacitance, bare: true));

    [Theory]
    [InlineData("4k7k", Dimension.Resistance, true, QuantityFaultKind.NotAQuantity, "use one multiplier, as 4.7k or 4k7")]
    [InlineData("4k7 mA", Dimension.Current, false, QuantityFaultKind.NotAQuantity, "write it as 35 mA")]
    [InlineData("4,7k", Dimension.Resistance, true, QuantityFaultKind.NotAQuantity, "use a decimal point: 4.7k")]
    [InlineData("4.7.1k", Dimension.Resistance, true, QuantityFaultKind.NotAQuantity, "use one multiplier, as 4.7k or 4k7")]
    [InlineData("twelve", Dimension.Voltage, false, QuantityFaultKind.NotAQuantity, "write it as 12 V")]
    [InlineData("12 v", Dimension.Voltage, false, QuantityFaultKind.NotAQuantity, "units mind capitals: V")]
    [InlineData("12", Dimension.Voltage, false, QuantityFaultKind.NoUnit, "add the unit, as 12 V")]
    [InlineData("35m", Dimension.Current, false, QuantityFaultKind.NoUnit, "add the unit, as 35mA")]
    [InlineData("12 V", Dimension.Resistance, true, QuantityFaultKind.OtherDimension, "write a resistance, as 4.7k or 4k7")]
    [InlineData("1e999", Dimension.Ratio, true, QuantityFaultKind.NotAQuantity, "write it as 0.5, 50% or 25 ppm")]
    [InlineData("1e99999999999 V", Dimension.Voltage, true, QuantityFaultKind.NotAQuantity, "write it as 12 V")]
    [InlineData("", Dimension.Voltage, true, QuantityFaultKind.NotAQuantity, "write it as 12 V")]
    [InlineData("-", Dimension.Voltage, true, QuantityFaultKind.NotAQuantity, "write it as 12 V")]
    [InlineData(".", Dimension.Voltage, true, QuantityFaultKind.NotAQuantity, "write it as 12 V")]
    public void A_wrong_value_says_how_to_mend_it(string text, Dimension dimension, bool bare, QuantityFaultKind kind, string mend)
    {
        Assert.False(Quantity.TryRead(text, dimension, bare, out _, out QuantityFault? fault));
        Assert.Equal((kind, mend), (fault!.Kind, fault.Mend));
    }

    [Theory]
    [InlineData(4700, Dimension.Resistance, "4.7k")]
    [InlineData(470, Dimension.Resistance, "470R")]
    [InlineData(0.02, Dimension.Resistance, "20 mΩ")]
    [InlineData(999.99, Dimension.Resistance, "1k")]
    [InlineData(12, Dimension.Voltage, "12 V")]
    [InlineData(-3.2, Dimension.Interval, "-3.2 cents")]
    [InlineData(100e-9, Dimension.Capacitance, "100 nF")]
    [InlineData(0.001, Dimension.Ratio, "0.1%")]
    [InlineData(298.15, Dimension.Temperature, "25 °C")]
    [InlineData(13e6, Dimension.Slew, "13 V/µs")]
    [InlineData(18e-9, Dimension.VoltageNoise, "18 nV/√Hz")]
    [InlineData(0.1016, Dimension.PanelWidth, "20 HP")]
    [InlineData(double.PositiveInfinity, Dimension.Resistance, "infinite")]
    public void A_value_is_written_as_the_trade_writes_it(double si, Dimension dimension, string text) =>
        Assert.Equal(text, QuantityText.Write(si, dimension));

    [Fact]
    public void What_is_written_reads_back_in_every_dimension()
    {
        Random random = new(20240611);
        foreach (Dimension dimension in Enum.GetValues<Dimension>())
            for (int i = 0; i < 200; i++)
            {
                double value = dimension switch
                {
                    Dimension.Money => Math.Round(random.NextDouble() * 100, 2),
                    Dimension.Temperature => 273.15 + (random.NextDouble() * 100),
                    _ => Math.Pow(10, (random.NextDouble() * 24) - 14),
                };
                string text = QuantityText.Write(value, dimension, 15);
                double? back = Quantity.Read(text, dimension, bare: dimension == Dimension.Resistance);
                Assert.True(back is { } b && Math.Abs((b / value) - 1) < 1e-12, $"{dimension}: {value:R} was written '{text}' and read as {back}");
            }
    }
}
