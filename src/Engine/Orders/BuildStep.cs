using Consort.Engine.Design;

namespace Consort.Engine.Orders;

/// <summary>Steps in which a module is built: low parts before high ones, so that the board lies flat while it is
/// soldered; what heat or static may hurt late; integrated circuits into their sockets only when the rails were measured.
/// Common practice, no source.</summary>
public enum BuildStep
{
    /// <summary>Resistors, diodes, coils.</summary>
    Low,
    /// <summary>Capacitors.</summary>
    Capacitors,
    /// <summary>Transistors, pairs, references, regulators.</summary>
    Transistors,
    /// <summary>Trimmers, headers, supply connectors.</summary>
    Upright,
    /// <summary>Jacks, potentiometers, switches.</summary>
    Panel,
    /// <summary>Integrated circuits.</summary>
    Chips,
    /// <summary>Knobs, screws, cords, ribbons, bought modules.</summary>
    Assembly,
}

/// <summary>Names of steps, and which kind of part belongs to which.</summary>
public static class BuildSteps
{
    /// <summary>What a bag's label says.</summary>
    public static string Title(BuildStep step) =>
        step switch
        {
            BuildStep.Low => "resistors and diodes",
            BuildStep.Capacitors => "capacitors",
            BuildStep.Transistors => "transistors and references",
            BuildStep.Upright => "trimmers and connectors",
            BuildStep.Panel => "panel parts",
            BuildStep.Chips => "integrated circuits",
            _ => "assembly",
        };

    /// <summary>The step in which a kind of part is fitted.</summary>
    public static BuildStep Of(PartKind kind) =>
        kind.Word switch
        {
            "resistor" or "diode" or "zener" or "inductor" => BuildStep.Low,
            "capacitor" => BuildStep.Capacitors,
            "npn" or "pnp" or "matched pair" or "n jfet" or "p jfet" or "n mosfet" or "p mosfet" or "reference" or "regulator" => BuildStep.Transistors,
            "trimmer" or "header" or "power" => BuildStep.Upright,
            "jack" or "potentiometer" or "selector" => BuildStep.Panel,
            "cord" or "ribbon" => BuildStep.Assembly,
            _ => BuildStep.Chips,
        };
}
