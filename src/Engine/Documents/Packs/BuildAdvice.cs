using Consort.Engine.Orders;

namespace Consort.Engine.Documents.Packs;

/// <summary>What to mind in each build step. Common practice, no source.</summary>
internal static class BuildAdvice
{
    public static string Of(BuildStep step) =>
        step switch
        {
            BuildStep.Low => "Measure every resistor before it goes in. Diodes: the ring is the cathode. Fit flat, solder, cut.",
            BuildStep.Capacitors => "Film and ceramic ones go in either way; electrolytic ones have a marked side. The timing capacitor is soldered quickly: heat shifts its value.",
            BuildStep.Transistors => "Compare the flat or the tab with the board's outline; pin orders differ between makers. Pairs, references and tempco parts are soldered quickly and last.",
            BuildStep.Upright => "Trimmers with the screw where the panel's hole is. Headers with the notch as printed: pin 1 is marked.",
            BuildStep.Panel => "Put jacks, potentiometers and switches into the board without solder, screw the panel on, and only then solder: so they stand straight.",
            BuildStep.Chips => "Not yet: sockets stay empty until the rails were measured (first power-up). Then with the power off; pin 1 at the notch.",
            _ => "Knobs, screws and leads last, after the module has been checked and trimmed.",
        };
}
