using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Sorts the parts of a circuit into banks.</summary>
public static class PartBanks
{
    private sealed record Maker(Func<IReadOnlyList<Part>, Assembly, PartBank> Make, params string[] Words);

    // The order is fixed, so that the same circuit always gives the same unknowns and the same sums.
    private static readonly Maker[] Makers =
    [
        new((parts, at) => new ResistorBank(parts, at), "resistor"),
        new((parts, at) => new VariableResistorBank(parts, at), "potentiometer", "trimmer"),
        new((parts, at) => new SelectorBank(parts, at), "selector"),
        new((parts, at) => new CapacitorBank(parts, at), "capacitor"),
        new((parts, at) => new InductorBank(parts, at), "inductor"),
        new((parts, at) => new DiodeBank(parts, at), "diode"),
        new((parts, at) => new ZenerBank(parts, at), "zener"),
        new((parts, at) => new BipolarBank(parts, at), "npn", "pnp"),
        new((parts, at) => new JunctionFetBank(parts, at), "n jfet", "p jfet"),
        new((parts, at) => new MosfetBank(parts, at), "n mosfet", "p mosfet"),
        new((parts, at) => new OtaBank(parts, at), "ota"),
        new((parts, at) => new OpAmpBank(parts, at), "op amp"),
        new((parts, at) => new ComparatorBank(parts, at), "comparator"),
        new((parts, at) => new AnalogSwitchBank(parts, at), "analog switch"),
        new((parts, at) => new RegulatorBank(parts, at), "reference", "regulator"),
        new((parts, at) => new JackBank(parts, at), "jack"),
        new((parts, at) => new CordBank(parts, at), "cord"),
        new((parts, at) => new RibbonBank(parts, at), "ribbon"),
        new((parts, at) => new VoltageSourceBank(parts, at), "voltage source"),
        new((parts, at) => new CurrentSourceBank(parts, at), "current source"),
        new((parts, at) => new LawBank(parts, at), "law", "charge law"),
        new((parts, at) => new IdleBank(parts, at), "header", "power", "matched pair"),
    ];

    /// <summary>One bank for each group of kinds that the circuit uses, in a fixed order; within a bank the parts keep
    /// their order in the file.</summary>
    public static PartBank[] Build(CircuitDesign design, Assembly at)
    {
        ILookup<string, Part> byKind = design.Parts.ToLookup(part => part.Kind.Word);
        List<PartBank> banks = [];
        foreach (Maker maker in Makers)
        {
            Part[] parts =
                maker.Words.Length == 1
                    ? [.. byKind[maker.Words[0]]]
                    : [.. design.Parts.Where(part => maker.Words.Contains(part.Kind.Word))];
            if (parts.Length > 0)
                banks.Add(maker.Make(parts, at));
        }
        return [.. banks];
    }
}
