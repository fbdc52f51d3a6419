using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Signal;
using Consort.Engine.Design;
using Xunit;
using Compiled = Consort.Engine.Circuit.Circuit;

namespace Consort.Tests.Circuit;

/// <summary>A circuit on the bench: its text goes through the program's own reader and solver, as a file would.</summary>
internal sealed class Bench
{
    private RestState? rest;

    public Bench(string text, double kelvin = Constants.ReferenceTemperature)
    {
        (CircuitDesign? design, ImmutableArray<InputError> errors) = CircuitFile.Parse(text, "bench.yaml");
        Assert.True(design is not null, string.Join('\n', errors.Select(error => error.Render())));
        Circuit = Compiled.Compile(design);
        Circuit.SetTemperature(kelvin);
    }

    public Bench(CircuitDesign design) => Circuit = Compiled.Compile(design);

    public Compiled Circuit { get; }

    /// <summary>Voltage of a net at rest, V.</summary>
    public double this[string net] => Rest.X[Circuit.Net(net)];

    /// <summary>The operating point; it must be found.</summary>
    public RestState Rest
    {
        get
        {
            if (rest is not null)
                return rest;
            (RestState? found, SolveFailure? failure) = new OperatingPoint(Circuit).Find();
            Assert.True(found is not null, failure?.ToString());
            return rest = found;
        }
    }

    /// <summary>Changes one parameter.</summary>
    public Bench With(string part, string word, double value)
    {
        Circuit[part, word] = value;
        rest = null;
        return this;
    }

    /// <summary>Warms the circuit to a temperature, K.</summary>
    public Bench At(double kelvin)
    {
        Circuit.SetTemperature(kelvin);
        rest = null;
        return this;
    }

    /// <summary>Current into a terminal at rest, A.</summary>
    public double Into(string part, string terminal)
    {
        foreach ((string name, double amperes) in Circuit.Currents(part, Rest.X, 0, Regime.Rest))
            if (name == terminal)
                return amperes;
        throw new ArgumentException($"{part} has no current at '{terminal}'");
    }

    /// <summary>d(voltage of a net)/d(parameter) at rest, by the adjoint.</summary>
    public double Slope(string net, string part, string word)
    {
        RestSensitivity? sensitivity = RestSensitivity.At(Circuit, Rest);
        Assert.NotNull(sensitivity);
        return sensitivity.Of(sensitivity.Adjoint((Circuit.Net(net), 1)), Circuit.Find(part), word);
    }

    public Probe Rising(string net, double level = 0) => new(Circuit.Net(net), level, true);

    public Probe Falling(string net, double level = 0) => new(Circuit.Net(net), level, false);

    /// <summary>A transient that stands at the operating point at time zero.</summary>
    public Transient Start(Accuracy? accuracy = null, StepMethod? method = null, params Probe[] probes)
    {
        rest = null; // the switches of an earlier run stand where it left them
        Transient run = new(Circuit, accuracy ?? Accuracy.Default, probes, method);
        run.Start(Rest.X);
        return run;
    }

    /// <summary>A transient that begins with given voltages on nets, and 0 elsewhere.</summary>
    public Transient StartFrom(IReadOnlyDictionary<string, double> volts, Accuracy accuracy, StepMethod? method = null)
    {
        double[] x = new double[Circuit.Length];
        foreach ((string net, double value) in volts)
            x[Circuit.Net(net)] = value;
        Transient run = new(Circuit, accuracy, [], method);
        run.Start(x);
        return run;
    }

    /// <summary>Runs to a time and returns all unknowns there.</summary>
    public double[] After(double time, Accuracy? accuracy = null, StepMethod? method = null)
    {
        Transient run = Start(accuracy, method);
        Run(run, time);
        return run.X;
    }

    /// <summary>Times at which a net went through a level, from a run of a length.</summary>
    public double[] Times(Probe probe, double until, Accuracy? accuracy = null)
    {
        Transient run = Start(accuracy, null, probe);
        Run(run, until);
        return [.. run.Crossings.Select(crossing => crossing.Time)];
    }

    /// <summary>Mean period between two crossings, counted from 0, s.</summary>
    public double Period(Probe probe, int from, int to, double until, Accuracy? accuracy = null)
    {
        double[] times = Times(probe, until, accuracy);
        Assert.True(times.Length > to, $"only {times.Length} crossings in {until} s");
        return (times[to] - times[from]) / (to - from);
    }

    public static void Run(Transient run, double until)
    {
        SolveFailure? failure = run.RunTo(until);
        Assert.True(failure is null, failure?.ToString());
    }
}
