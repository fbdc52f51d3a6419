using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Wiring;

/// <summary>Gathers the parts of a voice's circuit: those of its members, and wiring as resistors, capacitors and
/// sources.</summary>
internal sealed class Harness
{
    private readonly ImmutableArray<Part>.Builder parts = ImmutableArray.CreateBuilder<Part>();
    private readonly Dictionary<string, string> shorted = [];

    /// <summary>All parts so far.</summary>
    public ImmutableArray<Part> Parts => parts.ToImmutable();

    /// <summary>A part as it is.</summary>
    public void Add(Part part) => parts.Add(part);

    /// <summary>A wire with its contacts.</summary>
    /// <param name="wireAt20">The wire's resistance at 20 °C, ohm.</param>
    /// <param name="contacts">Of its contacts together, ohm.</param>
    /// <param name="rating">What its contacts may carry, A.</param>
    public void Wire(
        string name,
        double wireAt20,
        double contacts,
        string from,
        string to,
        Cause cause,
        double rating = double.PositiveInfinity
    )
    {
        (double ohms, double tempco) = Copper.InSeries(wireAt20, contacts);
        Resistor(name, ohms, from, to, new(cause, 0) { Rating = rating }, tempco);
    }

    /// <summary>A resistor. One of no ohms is a source of 0 V, which keeps both nets' names and is exact; where such a
    /// join would close a loop of joins, it carries nothing and is left out.</summary>
    public void Resistor(string name, double ohms, string from, string to, WiringCost? cost, double tempco = 0)
    {
        if (from == to)
            return;
        if (ohms <= 0)
        {
            if (Short(from, to))
                VoltageSource(name, 0, from, to);
            return;
        }
        Part part = Blank.Resistor(name, from, to);
        parts.Add(
            part with
            {
                Numbers = part.Numbers.SetItem("value", ohms).SetItem("tempco", tempco),
                Wiring = cost,
            }
        );
    }

    /// <summary>A capacitor; none when it has no capacitance or both ends are one net.</summary>
    public void Capacitor(string name, double farads, string from, string to, Cause cause)
    {
        if (from == to || farads <= 0)
            return;
        Part part = Blank.Capacitor(name, from, to);
        parts.Add(part with { Numbers = part.Numbers.SetItem("value", farads), Wiring = new(cause, 0) });
    }

    /// <summary>A source of constant voltage.</summary>
    public void VoltageSource(string name, double volts, string plus, string minus)
    {
        Part part = Blank.VoltageSource(name, plus, minus);
        parts.Add(part with { Numbers = part.Numbers.SetItem("value", volts) });
    }

    /// <summary>A rail's source, whose voltage changes in a straight line with temperature from 25 °C.</summary>
    public void Rail(string name, Rail rail, string plus, string minus)
    {
        Part part = Blank.VoltageSource(name, plus, minus);
        parts.Add(
            part with { Numbers = part.Numbers.SetItem("value", rail.Voltage).SetItem("tempco", rail.Tempco) }
        );
    }

    /// <summary>A source of constant current that flows through it from one net to the other.</summary>
    public void CurrentSource(string name, double amperes, string from, string to)
    {
        Part part = Blank.CurrentSource(name, from, to);
        parts.Add(part with { Numbers = part.Numbers.SetItem("value", amperes) });
    }

    private bool Short(string a, string b)
    {
        string first = Root(a);
        string second = Root(b);
        if (first == second)
            return false;
        shorted[first] = second;
        return true;
    }

    private string Root(string net)
    {
        while (shorted.TryGetValue(net, out string? next))
            net = next;
        return net;
    }
}
