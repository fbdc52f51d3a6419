using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>A circuit from the text of its map, at rest.</summary>
internal sealed class Rig
{
    public Rig(string circuit, double kelvin = Constants.ReferenceTemperature)
    {
        string text = "circuit:\n" + string.Join('\n', circuit.Split('\n').Select(line => "  " + line.Trim()));
        (CircuitDesign? design, var errors) = CircuitFile.Parse(text);
        Assert.True(design is not null, string.Join('\n', errors.Select(error => error.What)));
        Circuit = Engine.Circuit.Circuit.Compile(design);
        Circuit.SetTemperature(kelvin);
        Rest();
    }

    public Engine.Circuit.Circuit Circuit { get; }

    public RestState State { get; private set; } = null!;

    /// <summary>Voltage of a net, V.</summary>
    public double this[string net] => State.X[Circuit.Net(net)];

    /// <summary>Solves again after a change.</summary>
    public void Rest()
    {
        (RestState? state, SolveFailure? failure) = new OperatingPoint(Circuit).Find();
        Assert.True(state is not null, failure?.ToString());
        State = state;
    }

    /// <summary>Sets a parameter and solves again.</summary>
    public Rig With(string part, string word, double value)
    {
        Circuit[part, word] = value;
        Rest();
        return this;
    }

    /// <summary>Current into a terminal, A.</summary>
    public double Current(string part, string terminal) =>
        Circuit.Currents(part, State.X, 0, Regime.Rest).First(current => current.Terminal == terminal).Amperes;
}
