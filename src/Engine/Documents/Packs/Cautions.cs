using System.Collections.Immutable;

namespace Consort.Engine.Documents.Packs;

/// <summary>What can hurt the builder or the build, said before anything else. Common practice; local codes and licensed
/// practice stand above it.</summary>
internal static class Cautions
{
    public static ImmutableArray<string> All { get; } =
    [
        "Mains: use a certified supply with a low-voltage output. Work on the mains side belongs to a licensed electrician and follows your local code. Unplug before you open a case, wait until capacitors have discharged, and measure that they have.",
        "Polarity: a supply lead that is turned round destroys modules at once, and a reversed electrolytic or tantalum capacitor can burst. Mark pin 1 at both ends of every lead and ribbon. Measure the rails at the lead's far end before the first module is plugged in.",
        "Eyes: wear eye protection when you cut leads, drill, and power up for the first time.",
        "Soldering: the iron burns and sets things alight. Good air, no fumes to the face, a stand for the iron. Lead in solder is poisonous: wash your hands before you eat, and keep it from children.",
        "Heat: regulators, transistors and resistors that are wrongly fitted get hot enough to burn. If anything smells or smokes, switch off first and look afterwards.",
        "Drilling and filing panels: clamp the sheet, wear eye protection, no gloves and no loose sleeves near a drill, take off burrs. Dust of circuit-board material harms the lungs: keep it wet or wear a mask.",
        "Hearing: oscillators are loud and shrill. Start with the volume down, and keep headphones off the ears for first tests.",
        "Static: touch bare metal that is earthed before you handle semiconductors.",
    ];
}
