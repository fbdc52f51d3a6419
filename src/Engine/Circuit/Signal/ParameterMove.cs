namespace Consort.Engine.Circuit.Signal;

/// <summary>One parameter of one part, or the part's own temperature, moved by a little and put back.</summary>
internal sealed class ParameterMove
{
    // Rounding is then near 1e-16/1e-6. A wider move of a regulator's voltage, over its few milliohms, would swing its
    // current through zero.
    public const double Usual = 1e-6; // share of the value
    private const double FromNothing = 5e-8; // of a value of zero: of a tempco, 20 K away, the same as a millionth
    private const double Kelvins = 1e-3;

    private readonly Circuit circuit;
    private readonly PartPlace place;
    private readonly double[]? numbers; // none for a temperature
    private readonly double value;

    public ParameterMove(Circuit circuit, PartPlace place, string word, double share = Usual)
    {
        (this.circuit, this.place) = (circuit, place);
        numbers = word == ParameterPlace.OwnTemperature ? null : place.Bank.Numbers(word);
        value = numbers?[place.Index] ?? 0;
        Size = numbers is null ? Kelvins
            : Math.Abs(value) > 1e-30 ? share * Math.Abs(value)
            : Math.Min(FromNothing, share);
    }

    /// <summary>A move that suits a difference, in the parameter's unit.</summary>
    public double Size { get; }

    /// <summary>Moves the part to so much from where it stood; a pass that stamps it takes its temperature.</summary>
    public void To(double by, Pass alone)
    {
        double kelvin = circuit.Temperature + (numbers is null ? by : 0);
        if (numbers is not null)
            numbers[place.Index] = value + by;
        alone.Temperature = kelvin;
        place.Bank.Prepare(kelvin, place.Index, place.Index + 1);
    }
}
